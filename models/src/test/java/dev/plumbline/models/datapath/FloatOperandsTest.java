package dev.plumbline.models.datapath;

import static org.junit.jupiter.api.Assertions.assertEquals;

import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.fixed.Rounding;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import org.junit.jupiter.api.Test;

/** What is known of the codes of a datapath: which of them are floating point. */
class FloatOperandsTest {
  @Test
  void whatFloatingStepsTakeAndGiveIsFloating() {
    FloatFormat half = FloatFormat.binary16();
    FloatFormat brain = FloatFormat.bfloat16();
    Datapath.Builder b = Datapath.named("mixed");
    Value x = b.input("x", half.bits());
    Value y = b.input("y", brain.bits());
    Value n = b.input("n", Format.unsigned(16, 0));
    Value held = b.register("held", half.bits(), 0);
    Value one = b.constant("one", half.bits(), half.toCode(1));
    Value sum = b.floatAdd("sum", half, x, one);
    Value less = b.floatLessThan("less", brain, y, y);
    Value chosen = b.select("chosen", less, sum, held);
    b.next(held, b.choose("later", less, chosen, sum));
    Value fixed = b.floatToFixed("fixed", half, sum, Format.signed(4, 4), Rounding.FLOOR);
    Value counted = b.add("counted", n, n);
    Datapath datapath =
        b.output("result", chosen)
            .output(fixed)
            .output(counted)
            .output("y", y, brain.bits())
            .build();

    Map<String, String> meanings = new TreeMap<>();
    datapath.steps().forEach(step -> meanings.put(step.name(), step.meaning()));
    assertEquals("binary16", meanings.get("x"));
    assertEquals("bfloat16", meanings.get("y"));
    assertEquals("u16.0", meanings.get("n"));
    assertEquals("binary16", meanings.get("held"));
    assertEquals("binary16", meanings.get("one"));
    assertEquals("binary16", meanings.get("sum"));
    assertEquals("u1.0", meanings.get("less"));
    assertEquals("binary16", meanings.get("chosen"));
    assertEquals("binary16", meanings.get("later"));
    assertEquals("s4.4", meanings.get("fixed"));
    assertEquals("u17.0", meanings.get("counted"));
    assertEquals("result binary16", datapath.outputs().get(0).toString());
    assertEquals(Optional.of(brain), datapath.outputs().get(3).floating());
    assertEquals(brain.bits(), new Operand("z", brain).format());
  }
}
