/** Arithmetic units as datapaths: reciprocal, square root, multiplier. */
package dev.plumbline.models.unit;
