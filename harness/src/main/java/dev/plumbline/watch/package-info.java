/** Test classes that are run again whenever a file they depend on is saved. */
package dev.plumbline.watch;
