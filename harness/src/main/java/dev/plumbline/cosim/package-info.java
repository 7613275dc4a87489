/** A live model of a design: single cycles and batches through JNA. */
package dev.plumbline.cosim;
