/** From a pixel to its colour: the life of its rays, shading, and whole frames. */
package dev.plumbline.models.light;
