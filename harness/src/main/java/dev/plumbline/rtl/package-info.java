/** What RTL source says of itself: ports, parameters, clocks, memories, hierarchy. */
package dev.plumbline.rtl;
