package dev.plumbline.rtl;

/**
 * An input port of the top module that resets logic from a sensitivity list.
 *
 * <p>Distinguished from a clock by what the block does: of several edges it waits for, those it
 * tests are resets. A reset that is only tested and not waited for is synchronous and not listed.
 *
 * @param port the port's name
 * @param activeLow whether it resets while low, inversions on the way counted
 * @param location a sensitivity list that uses it
 */
public record AsyncReset(String port, boolean activeLow, SourceLocation location) {}
