package dev.plumbline.models.datapath;

import dev.plumbline.models.fixed.Format;

/** And, or, exclusive or, not of the bits of whole words of one format. */
final class WordLogic extends CodeFunction {
  enum Kind {
    AND("&"),
    OR("|"),
    EXCLUSIVE_OR("^"),
    NOT("~");

    private final String sign;

    Kind(String sign) {
      this.sign = sign;
    }

    String sign() {
      return sign;
    }
  }

  private final Kind kind;
  private final Format format;

  WordLogic(Kind kind, Value... operands) {
    super(Range.of(operands[0].format()), operands[0].fractionBits(), operands);
    this.kind = kind;
    this.format = operands[0].format();
  }

  Kind kind() {
    return kind;
  }

  @Override
  Format declaredFormat() {
    return format;
  }

  @Override
  Loop codes(Lane[] in, Lane out) {
    Lane a = in[0];
    Lane b = in[in.length - 1];
    return switch (kind) {
      case AND ->
          count -> {
            for (int i = 0; i < count; i++) {
              out.set(i, a.high(i) & b.high(i), a.low[i] & b.low[i]);
            }
          };
      case OR ->
          count -> {
            for (int i = 0; i < count; i++) {
              out.set(i, a.high(i) | b.high(i), a.low[i] | b.low[i]);
            }
          };
      case EXCLUSIVE_OR ->
          count -> {
            for (int i = 0; i < count; i++) {
              out.set(i, a.high(i) ^ b.high(i), a.low[i] ^ b.low[i]);
            }
          };
      case NOT -> not(a, out);
    };
  }

  /** The bits above an unsigned format's width stay zero. */
  private Loop not(Lane a, Lane out) {
    long high = format.signed() ? -1 : range().max().shiftRight(64).longValue();
    long low = format.signed() ? -1 : range().max().longValue();
    return count -> {
      for (int i = 0; i < count; i++) {
        out.set(i, a.high(i) ^ high, a.low[i] ^ low);
      }
    };
  }

  @Override
  String formula() {
    return kind == Kind.NOT
        ? kind.sign + operand(0).name()
        : operand(0).name() + " " + kind.sign + " " + operand(1).name();
  }
}
