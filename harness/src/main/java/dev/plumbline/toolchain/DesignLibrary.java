package dev.plumbline.toolchain;

import dev.plumbline.rtl.Design;
import java.nio.file.Path;

/**
 * A design and the shared library that is its model.
 *
 * @param design what the RTL says of itself
 * @param file the library; its content never changes
 * @param contentHash digest of the source files' content, the top module, parameters, defines and
 *     further arguments, in 64 hexadecimal digits; the same wherever the files are and whatever the
 *     tools
 * @param hazard what the design may do to the process it runs in, such as "imports C functions";
 *     empty when it is known to be harmless
 */
public record DesignLibrary(Design design, Path file, String contentHash, String hazard) {}
