package dev.plumbline.models.rows;

import java.util.List;

/**
 * What loops over columns do to a row, as statements in C, and the columns it is about.
 *
 * @param statements on {@code W} and {@code R}, whole numbers of 64 bits and doubles of several
 *     rows at once; {@code input(k)} reads column k and {@code output(k, w)} writes it, {@code
 *     state} is the same for all rows
 * @param inputs columns that are filled before each run
 * @param kept columns that are read as well and never change; numbered behind the inputs
 * @param outputs columns that a run fills, numbered from 0
 */
public record RowProgram(
    String statements, List<long[]> inputs, List<long[]> kept, List<long[]> outputs) {}
