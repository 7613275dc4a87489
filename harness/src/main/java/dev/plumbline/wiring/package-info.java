/** Which port is which operand. Internal to this module. */
package dev.plumbline.wiring;
