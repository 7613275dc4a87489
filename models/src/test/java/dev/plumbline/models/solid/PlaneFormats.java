package dev.plumbline.models.solid;

import dev.plumbline.models.fixed.Format;

/** Pairs of formats that every law of planes and hulls is tried in. */
@SuppressWarnings("ImmutableEnumChecker") // formats are records of plain values
enum PlaneFormats {
  DEFAULT(Format.signed(16, 16), Format.signed(2, 16)),
  NARROW_DIRECTIONS(Format.signed(18, 14), Format.signed(2, 14)),
  FINE(Format.signed(12, 20), Format.signed(2, 16)),
  TINY(Format.signed(5, 3), Format.signed(2, 3)),
  COARSE_DIRECTIONS(Format.signed(6, 10), Format.signed(2, 4));

  final Format word;
  final Format direction;

  PlaneFormats(Format word, Format direction) {
    this.word = word;
    this.direction = direction;
  }
}
