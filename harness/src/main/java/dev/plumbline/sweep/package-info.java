/** Every code of a block's operands held to its reference, a night's work that may be killed. */
package dev.plumbline.sweep;
