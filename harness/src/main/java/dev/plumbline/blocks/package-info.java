/** Ready-made benches: one class a block. */
package dev.plumbline.blocks;
