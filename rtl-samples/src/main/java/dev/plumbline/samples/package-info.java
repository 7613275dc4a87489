/** The sample chip's benches, scenes and executors, and the regression over all of them. */
package dev.plumbline.samples;
