package dev.plumbline.contract;

/**
 * How the block is reset.
 *
 * @param port the port; null where there is none
 * @param activeLow whether a 0 resets
 * @param cycles how long a reset lasts, in cycles
 */
public record Reset(String port, boolean activeLow, int cycles) {}
