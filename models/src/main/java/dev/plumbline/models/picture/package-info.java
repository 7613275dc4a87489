/** Pictures: palettes, dither, bit planes, differences. */
package dev.plumbline.models.picture;
