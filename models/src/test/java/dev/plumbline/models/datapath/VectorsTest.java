package dev.plumbline.models.datapath;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.fixed.Overflow;
import dev.plumbline.models.fixed.Rounding;
import java.math.BigInteger;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Test;

/** Vectors and complex numbers over values, against identities of both. */
class VectorsTest {
  private static final Format PART = Format.signed(4, 6);

  private static List<long[]> outputs(Datapath datapath, int cases) {
    List<BigInteger[]> rows = Cases.random(datapath.inputs(), cases, new Random(cases));
    BitEvaluation bits = datapath.bits(cases);
    Cases.fill(datapath, bits::input, rows, 0, cases);
    bits.run(cases);
    Laws.hold(datapath, rows, 0x1p-40);
    return java.util.stream.IntStream.range(0, datapath.outputs().size())
        .mapToObj(o -> bits.output(o, 0))
        .toList();
  }

  /** Lagrange: |a x b|^2 + (a.b)^2 = |a|^2 |b|^2; a x b is normal to both. */
  @Test
  void innerAndOuterProductsKeepLagrangesIdentity() {
    Datapath.Builder b = Datapath.named("products");
    Vectors v = new Vectors(b);
    Value[] left = v.inputs("left", PART);
    Value[] right = v.inputs("right", PART);
    Value[] cross = v.cross("cross", left, right);
    Value dot = v.dot("dot", left, right);
    b.output("a", b.add("a", v.dot("crosses", cross, cross), b.multiply("dots", dot, dot)));
    b.output("b", b.multiply("b", v.dot("lefts", left, left), v.dot("rights", right, right)));
    b.output("c", v.dot("c", cross, left)).output("d", v.dot("d", cross, right));
    b.output("z", cross[2]);
    Datapath datapath = b.build();
    List<long[]> given = outputs(datapath, 500);
    boolean moved = false;
    for (int i = 0; i < 500; i++) {
      assertEquals(given.get(1)[i], given.get(0)[i]);
      assertEquals(0, given.get(2)[i]);
      assertEquals(0, given.get(3)[i]);
      moved |= given.get(4)[i] != 0;
    }
    assertTrue(moved);
  }

  /** x cross y is z. */
  @Test
  void axesTurnByTheRuleOfTheRightHand() {
    Datapath.Builder b = Datapath.named("axes");
    Vectors v = new Vectors(b);
    Value[] cross = v.cross("cross", v.inputs("l", PART), v.inputs("r", PART));
    Datapath datapath = b.output(cross[0]).output(cross[1]).output(cross[2]).build();
    BitEvaluation bits = datapath.bits(3);
    for (int axis = 0; axis < 3; axis++) {
      bits.input(axis, 0)[axis] = 64;
      bits.input(3 + (axis + 1) % 3, 0)[axis] = 64;
    }
    bits.run(3);
    for (int axis = 0; axis < 3; axis++) {
      for (int part = 0; part < 3; part++) {
        assertEquals((axis + 2) % 3 == part ? 4096 : 0, bits.output(part, 0)[axis]);
      }
    }
  }

  /** The magnitude of a product is the product of magnitudes; z times its conjugate is |z|^2. */
  @Test
  void complexProductsKeepMagnitudes() {
    Datapath.Builder b = Datapath.named("complex");
    Complex x = Complex.input(b, "x", PART);
    Complex y = Complex.input(b, "y", PART);
    Complex product = x.multiply(b, "product", y);
    b.output("a", product.square(b, "a"));
    b.output("b", b.multiply("b", x.square(b, "xx"), y.square(b, "yy")));
    Complex own = x.multiply(b, "own", x.conjugate(b, "turned"));
    b.output("c", own.im()).output("d", b.subtract("d", own.re(), x.square(b, "size")));
    Complex there = x.add(b, "sum", y).subtract(b, "back", y);
    b.output("e", there.subtract(b, "gone", x).im());
    Complex near = product.convert(b, "n", PART, Rounding.HALF_EVEN, Overflow.SATURATE);
    b.output(near.re()).output(product.im());
    List<long[]> given = outputs(b.build(), 500);
    for (int i = 0; i < 500; i++) {
      assertEquals(given.get(1)[i], given.get(0)[i]);
      assertEquals(0, given.get(2)[i] | given.get(3)[i] | given.get(4)[i]);
    }
  }

  /** i times i is -1, and i times 1 is i. */
  @Test
  void theImaginaryUnitSquaresToMinusOne() {
    Datapath.Builder b = Datapath.named("unit");
    Complex p = Complex.input(b, "x", PART).multiply(b, "p", Complex.input(b, "y", PART));
    BitEvaluation bits = b.output(p.re()).output(p.im()).build().bits(2);
    bits.input(1, 0)[0] = 64;
    bits.input(3, 0)[0] = 64;
    bits.input(1, 0)[1] = 64;
    bits.input(2, 0)[1] = 64;
    bits.run(2);
    assertEquals(List.of(-4096L, 0L), List.of(bits.output(0, 0)[0], bits.output(1, 0)[0]));
    assertEquals(List.of(0L, 4096L), List.of(bits.output(0, 0)[1], bits.output(1, 0)[1]));
  }
}
