package dev.plumbline.rtl;

/**
 * A parameter of the top module with its elaborated value.
 *
 * @param name the name
 * @param value the value: decimal text for numbers of any width and for reals, the text itself for
 *     strings; a number with x or z bits as Verilog writes it, {@code 8'b1x0z1010}; an array as
 *     {@code '{1, 2}}, leftmost element first, strings in it quoted; the number their bits make for
 *     packed structs and enums
 * @param local whether it is a localparam and cannot be overridden
 * @param location where it is declared
 */
public record Parameter(String name, String value, boolean local, SourceLocation location) {}
