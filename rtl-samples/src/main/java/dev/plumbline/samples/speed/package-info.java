/** How fast all of it is, beside a bare C++ loop. */
package dev.plumbline.samples.speed;
