/** Contracts, references, the referee that holds rows of a DUT to them, and its verdicts. */
package dev.plumbline.check;
