package dev.plumbline.models.unit;

import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.datapath.Value;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.fixed.Overflow;
import dev.plumbline.models.fixed.Rounding;
import java.util.Objects;

/**
 * A multiplier: the exact product of two formatted numbers, brought into a third format.
 *
 * <pre>{@code
 * Format word = Format.signed(16, 16);
 * Datapath multiplier =
 *     Multiplier.of(word, Format.signed(2, 16)).into(word, Rounding.FLOOR, Overflow.SATURATE);
 * Datapath product = Multiplier.of(word, word).exact();      // s32.32
 * }</pre>
 *
 * <p>Operands {@code a} and {@code b}, result {@code product}. The exact product has to fit 128
 * bits, or 127 where it is unsigned. The lowest signed code times itself is one LSB more than a
 * format of fewer integer bits holds: it saturates or wraps as declared.
 */
public final class Multiplier {
  private final Format left;
  private final Format right;

  private Multiplier(Format left, Format right) {
    this.left = Objects.requireNonNull(left, "left");
    this.right = Objects.requireNonNull(right, "right");
  }

  /**
   * A multiplier of two operands.
   *
   * @param left format of operand {@code a}
   * @param right format of operand {@code b}
   * @return a description to make a datapath of
   */
  public static Multiplier of(Format left, Format right) {
    return new Multiplier(left, right);
  }

  /**
   * The product rounded into a format.
   *
   * @param product format of the result
   * @param rounding for products between two codes
   * @param overflow for products beyond the range
   * @return the datapath
   * @throws dev.plumbline.models.datapath.DatapathException when the exact product is too wide
   */
  public Datapath into(Format product, Rounding rounding, Overflow overflow) {
    Datapath.Builder b = Datapath.named("multiplier");
    Value full = b.multiply("full", b.input("a", left), b.input("b", right));
    b.output(b.convert("product", full, product, rounding, overflow));
    return b.build();
  }

  /**
   * The product with all its bits, signed when either operand is.
   *
   * @return the datapath; the result has the widths and the fraction bits of both operands together
   * @throws dev.plumbline.models.datapath.DatapathException when the product is too wide
   */
  public Datapath exact() {
    Datapath.Builder b = Datapath.named("multiplier");
    Value product = b.multiply("product", b.input("a", left), b.input("b", right));
    Format format =
        new Format(
            left.signed() || right.signed(),
            left.width() + right.width(),
            left.fractionBits() + right.fractionBits());
    b.output("product", product, format);
    return b.build();
  }
}
