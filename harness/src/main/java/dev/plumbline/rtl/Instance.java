package dev.plumbline.rtl;

/**
 * An instance of a module or interface below the top module.
 *
 * @param path hierarchical name, the top module's own first, joined by dots; generate scopes and
 *     elements of arrays as Verilog names them: {@code planet.lane[0].cell[3]}
 * @param module the module's or interface's name in the source
 * @param location where it is instantiated
 */
public record Instance(String path, String module, SourceLocation location) {}
