package dev.plumbline.lockstep;

import dev.plumbline.verdict.Layout;
import dev.plumbline.verdict.Mismatch;
import dev.plumbline.verdict.Row;
import java.util.List;

/**
 * The first place where a DUT and the model part, with its evidence.
 *
 * @param mismatch the place
 * @param layout what the rows show
 * @param rows the cycles of the ray up to there, and a few after
 * @param explanation program, ray, lists and values as text
 */
record Finding(Mismatch mismatch, Layout layout, List<Row> rows, String explanation) {}
