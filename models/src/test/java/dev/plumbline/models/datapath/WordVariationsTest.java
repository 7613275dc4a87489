package dev.plumbline.models.datapath;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.fixed.Rounding;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Test;

/** What faults make of steps on words and of floating point. */
class WordVariationsTest {
  private static final FloatFormat HALF = FloatFormat.binary16();
  private static final int CASES = 400;

  private static Datapath datapath() {
    Datapath.Builder b = Datapath.named("words");
    Value x = b.input("x", Format.signed(8, 0));
    Value y = b.input("y", Format.signed(8, 0));
    Value places = b.input("places", Format.unsigned(3, 0));
    b.output(b.bitAnd("both", x, y)).output(b.rotateLeft("turned", x, places));
    b.output(b.shiftRight("right", x, places)).output(b.field("middle", x, 5, 2));
    b.output(b.concatenate("joined", x, y));
    b.output(b.crc("rest", b.input("c", Format.unsigned(8, 0)), x, 7, false));
    b.output(b.choose("one", b.field("low", y, 0, 0), x, y));
    b.output(b.exactTable("entry", b.field("index", x, 1, 0), Format.signed(4, 0), new long[4]));
    Value f = b.input("f", HALF.bits());
    Value g = b.input("g", HALF.bits());
    b.output(b.floatMultiply("product", HALF, f, g));
    b.output(b.floatLessThan("less", HALF, f, g));
    return b.output(b.floatToFixed("fixed", HALF, f, Format.signed(8, 2), Rounding.FLOOR)).build();
  }

  private final Datapath datapath = datapath();
  private final Variations variations = datapath.variations(CASES);

  private Variation named(String words) {
    List<Variation> found =
        variations.all().stream().filter(one -> one.toString().equals(words)).toList();
    assertEquals(1, found.size(), () -> words + " among " + variations.all());
    return found.get(0);
  }

  private void fill() {
    Random random = new Random(2);
    for (int k = 0; k < datapath.inputs().size(); k++) {
      for (int i = 0; i < CASES; i++) {
        Format format = datapath.inputs().get(k).format();
        variations.input(k, 0)[i] = format.extend(random.nextLong());
      }
    }
  }

  private long[] under(String words, String output) {
    fill();
    assertTrue(variations.run(words == null ? null : named(words), CASES));
    int index = datapath.outputs().stream().map(Operand::name).toList().indexOf(output);
    return variations.output(index, 0).clone();
  }

  @Test
  void eachChangeGivesWhatItsWordsSay() {
    long[] right = under(null, "right");
    long[] x = variations.input(0, 0).clone();
    long[] y = variations.input(1, 0).clone();
    long[] places = variations.input(2, 0).clone();
    long[] or = under("step both combines by | instead of &", "both");
    long[] turned = under("step turned turns the other way", "turned");
    long[] more = under("step right shifts by 1 place more", "right");
    long[] zeros = under("step right shifts zeros in", "right");
    long[] beside = under("step middle takes bits 4 to 1", "middle");
    long[] joined = under("step joined has x and y exchanged", "joined");
    for (int i = 0; i < CASES; i++) {
      int by = (int) places[i];
      assertEquals(x[i] | y[i], or[i]);
      int raw = (int) x[i] & 0xFF;
      assertEquals((byte) ((raw >> by) | (raw << (8 - by))), turned[i]);
      assertEquals(x[i] >> (by + 1), more[i]);
      assertEquals(by == 0 ? x[i] : (x[i] & 0xFF) >> by, zeros[i]);
      assertEquals(x[i] >> by, right[i]);
      assertEquals(x[i] >> 1 & 15, beside[i]);
      assertEquals(((y[i] & 0xFF) << 8) | (x[i] & 0xFF), joined[i]);
    }
  }

  @Test
  void everyChangeCanBeSeen() {
    under(null, "right");
    for (String words :
        List.of(
            "step rest takes bits in the other order",
            "step one has x and y exchanged",
            "step entry has another bit 2 in entry 3",
            "step product rounds toward zero",
            "step product rounds away from zero",
            "step product gives zero for subnormal results",
            "step product gives the greatest number for infinity",
            "step less compares by <= instead of <",
            "step fixed rounds half even")) {
      fill();
      boolean[] differs = variations.disturbs(named(words), CASES);
      int seen = 0;
      for (boolean one : differs) {
        seen += one ? 1 : 0;
      }
      boolean rare = words.contains("<=");
      assertTrue(rare || seen > 0, words);
      assertFalse(seen == CASES && words.contains("rounds"), words);
    }
  }
}
