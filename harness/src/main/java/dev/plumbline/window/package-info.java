/**
 * What is looked at around a mismatch: the rows recorded, what is wrong with their timing, what led
 * there. Internal to this module.
 */
package dev.plumbline.window;
