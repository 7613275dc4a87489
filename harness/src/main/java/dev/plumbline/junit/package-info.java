/** The JUnit 5 extension: a test class names its RTL and receives a bench, a model or a DUT. */
package dev.plumbline.junit;
