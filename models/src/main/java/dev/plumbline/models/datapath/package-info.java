/**
 * A block described once, as named steps on formatted numbers, and evaluated as bits, as bounds and
 * as ideal reals.
 */
package dev.plumbline.models.datapath;
