package dev.plumbline.models.light;

import dev.plumbline.models.datapath.Datapath;
import dev.plumbline.models.datapath.Value;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.fixed.Overflow;
import dev.plumbline.models.fixed.Rounding;

/** One channel of a colour, 0 to 255: lit, and mixed with what is mirrored. */
public final class ColourChannel {
  private static final Format CHANNEL = Format.unsigned(8, 0);
  private static final Format LEVEL = Format.unsigned(1, 8);
  private static final Format COSINE = Format.unsigned(1, SurfacePoint.COSINE_BITS);

  private ColourChannel() {}

  /**
   * A channel in light: operands {@code base}, {@code ambient} (u1.8, 0 to 1) and {@code cosine}
   * (u1.16, 0 to 1, and 0 in the shadow); result {@code own}, base times level to the nearest
   * integer, level = ambient + (1 - ambient) cosine cut down to 8 fraction bits.
   *
   * @return a datapath
   */
  public static Datapath lit() {
    return lit(false);
  }

  static Datapath lit(boolean bounded) {
    Datapath.Builder b = Datapath.named(bounded ? "bounded_channel" : "channel");
    Value base = b.input("base", CHANNEL);
    Value ambient = b.input("ambient", LEVEL, LEVEL.minCode(), one(LEVEL));
    Value cosine = bounded ? interval(b, "cosine", COSINE) : share(b, "cosine", COSINE);
    Value one = b.constant("one", LEVEL, one(LEVEL));
    Value rest = b.subtract("rest", one, ambient);
    Value product = b.multiply("part_full", rest, cosine);
    Value part = b.convert("part", product, LEVEL, Rounding.FLOOR, Overflow.SATURATE);
    Value level = b.add("level", ambient, part);
    return b.output("own", near(b, "own", b.multiply("own_full", base, level))).build();
  }

  /**
   * A channel of a mirror: operands {@code own}, {@code mirrored} and {@code share} (u1.8, 0 to 1);
   * result {@code mixed} = own + mirrored share - own share, both products to the nearest integer,
   * within 0 to 255.
   *
   * @return a datapath
   */
  public static Datapath mixed() {
    return mixed(false);
  }

  static Datapath mixed(boolean bounded) {
    Datapath.Builder b = Datapath.named(bounded ? "bounded_mix" : "mix");
    Value own = bounded ? interval(b, "own", CHANNEL) : b.input("own", CHANNEL);
    Value mirrored = bounded ? interval(b, "mirrored", CHANNEL) : b.input("mirrored", CHANNEL);
    Value share = share(b, "share", LEVEL);
    Value more = near(b, "more", b.multiply("more_full", mirrored, share));
    Value less = near(b, "less", b.multiply("less_full", own, share));
    Value sum = b.subtract("sum", b.add("both", own, more), less);
    return b.output("mixed", near(b, "mixed", sum)).build();
  }

  private static java.math.BigInteger one(Format format) {
    return java.math.BigInteger.ONE.shiftLeft(format.fractionBits());
  }

  private static Value share(Datapath.Builder b, String name, Format format) {
    return b.input(name, format, format.minCode(), one(format));
  }

  private static Value interval(Datapath.Builder b, String name, Format format) {
    return b.either(name, b.input(name + "_low", format), b.input(name + "_high", format));
  }

  private static Value near(Datapath.Builder b, String name, Value value) {
    return Codes.near(b, name, value, CHANNEL);
  }
}
