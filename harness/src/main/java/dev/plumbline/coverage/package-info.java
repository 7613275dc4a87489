/** Coverage points of the ready-made benches. Internal to this module. */
package dev.plumbline.coverage;
