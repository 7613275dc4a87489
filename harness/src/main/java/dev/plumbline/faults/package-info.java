/** Faults planted in copies of RTL, so that a bench can be seen to catch them. */
package dev.plumbline.faults;
