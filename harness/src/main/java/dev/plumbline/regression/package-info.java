/** Many benches in one run: chosen by name, told as they end, one exit status. */
package dev.plumbline.regression;
