package dev.plumbline.models.solid;

import dev.plumbline.models.datapath.Value;

/**
 * Both crossings once more, as c / (b + root) and c / (b - root): there the length counts once, and
 * so does b where its sign is that of the root, while in b - root what an error of b adds to one is
 * taken back by the other.
 *
 * @param sure where nothing under the root may be negative
 * @param uses what each of two uses of b, and the root, may be off a crossing
 * @param ratio how far two uses of the length may part, null where it is 1
 */
record Quotients(Value sure, Value along, Value root, Value c, Value uses, Value ratio) {}
