/** What every package of the harness may use: the family of its exceptions, text made plain. */
package dev.plumbline;
