package dev.plumbline.rtl;

/**
 * A parameter of the top module with its elaborated value.
 *
 * @param name the name
 * @param value the value: decimal text for numbers, the text itself for strings
 * @param local whether it is a localparam and cannot be overridden
 * @param location where it is declared
 */
public record Parameter(String name, String value, boolean local, SourceLocation location) {}
