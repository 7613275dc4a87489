/** Many benches in one run: chosen by name, reported as they end, one exit status. */
package dev.plumbline.regression;
