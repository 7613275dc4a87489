/** Ready-made benches that join a model to a DUT: one class a block. */
package dev.plumbline.rays;
