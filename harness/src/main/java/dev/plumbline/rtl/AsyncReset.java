package dev.plumbline.rtl;

/**
 * An input port of the top module that resets logic from a sensitivity list.
 *
 * @param port the port's name
 * @param activeLow whether it resets while low
 * @param location a sensitivity list that uses it
 */
public record AsyncReset(String port, boolean activeLow, SourceLocation location) {}
