/** Number formats, rounding, overflow and exact arithmetic up to 128 bits. */
package dev.plumbline.models.fixed;
