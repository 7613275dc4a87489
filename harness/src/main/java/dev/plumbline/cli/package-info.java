/** The command line: port tables, the tool chain found, and seeded random runs with a digest. */
package dev.plumbline.cli;
