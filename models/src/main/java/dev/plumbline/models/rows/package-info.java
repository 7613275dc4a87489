/** Loops over columns told row by row as C as well, for long runs. */
package dev.plumbline.models.rows;
