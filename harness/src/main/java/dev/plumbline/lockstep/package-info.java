/** Scene executors held to the model operation by operation, with programs and rays for them. */
package dev.plumbline.lockstep;
