/** A program run for rays: bits, bounds, ideal reals and timing. */
package dev.plumbline.models.traversal;
