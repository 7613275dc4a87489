/** What readers of text share: tokens, locations and the error that names them. */
package dev.plumbline.models.parsing;
