/** Operands, rays and scenes by chance. */
package dev.plumbline.cases;
