/** Whole frames of a chip, pixel by pixel, against the models of light; pictures of them. */
package dev.plumbline.frame;
