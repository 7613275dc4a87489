/** Registers and buses driven by hand, a cycle at a time. */
package dev.plumbline.bus;
