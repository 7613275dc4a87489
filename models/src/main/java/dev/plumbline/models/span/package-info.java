/** Spans along a ray and their combination. */
package dev.plumbline.models.span;
