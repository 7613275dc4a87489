package dev.plumbline.rtl;

/**
 * A module instance below the top module.
 *
 * @param path hierarchical name from the top module, joined by dots
 * @param module the module's name in the source
 * @param location where it is instantiated
 */
public record Instance(String path, String module, SourceLocation location) {}
