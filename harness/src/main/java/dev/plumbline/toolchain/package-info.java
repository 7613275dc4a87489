/** The tool chain, native builds of designs and their cache. */
package dev.plumbline.toolchain;
