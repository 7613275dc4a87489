/** Seeded streams, generators of operand columns, and the pacing of a stream of cases. */
package dev.plumbline.stimulus;
