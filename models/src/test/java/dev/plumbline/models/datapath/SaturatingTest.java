package dev.plumbline.models.datapath;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.fixed.Overflow;
import dev.plumbline.models.fixed.Rounding;
import java.math.BigDecimal;
import java.math.BigInteger;
import java.util.List;
import java.util.Random;
import java.util.function.BinaryOperator;
import org.junit.jupiter.api.Test;

/** Results that saturate to a declared format instead of growing. */
class SaturatingTest {
  private static final int CASES = 100;

  private static final List<Rounding> ROUNDINGS = List.of(Rounding.values());

  private static Format draw(Random random) {
    int width = (int) Math.round(Math.exp(random.nextDouble() * Math.log(40)));
    return new Format(random.nextBoolean(), width, random.nextInt(width + 8) - 3);
  }

  private static BigDecimal real(Format format, BigInteger code) {
    return format.toDecimal(code);
  }

  /** Each is its exact result, rounded and clamped, as rationals say. */
  @Test
  void everyResultIsTheExactOneRoundedAndClamped() {
    Random random = new Random(2);
    for (int n = 0; n < 40; n++) {
      Format x = draw(random);
      Format y = draw(random);
      Format word = draw(random);
      Rounding rounding = ROUNDINGS.get(n % ROUNDINGS.size());
      int which = random.nextInt(5);
      Datapath.Builder b = Datapath.named("saturating");
      Value a = b.input("a", x);
      Value c = b.input("c", y);
      b.saturateTo(word, rounding);
      Value result =
          switch (which) {
            case 0 -> b.add("result", a, c);
            case 1 -> b.subtract("result", a, c);
            case 2 -> b.multiply("result", a, c);
            case 3 -> b.negate("result", a);
            default -> b.absolute("result", a);
          };
      BinaryOperator<BigDecimal> exact =
          switch (which) {
            case 0 -> BigDecimal::add;
            case 1 -> BigDecimal::subtract;
            case 2 -> BigDecimal::multiply;
            case 3 -> (p, q) -> p.negate();
            default -> (p, q) -> p.abs();
          };
      assertEquals(word, result.format());
      Datapath datapath = b.output(result).build();
      List<BigInteger[]> cases = Cases.random(datapath.inputs(), CASES, random);
      Laws.bitsAre(
          datapath,
          cases,
          row ->
              word.toCode(
                  exact.apply(real(x, row[0]), real(y, row[1])), rounding, Overflow.SATURATE));
      Laws.hold(datapath, cases, Double.POSITIVE_INFINITY);
    }
  }

  /** In all three evaluations it is what a convert behind each step gives. */
  @Test
  void itIsAConvertBehindEachStep() {
    Random random = new Random(3);
    Format x = Format.signed(3, 5);
    Format word = Format.signed(4, 4);
    Datapath.Builder b = Datapath.named("short");
    Value a = b.input("a", x);
    Value c = b.input("c", x);
    b.saturateTo(word, Rounding.HALF_EVEN);
    Value sum = b.add("sum", b.multiply("square", a, a), c);
    b.grow();
    Datapath brief = b.output(sum).output(b.multiply("wide", sum, sum)).build();
    assertEquals(14, brief.outputs().get(1).format().width(), "0 to 127 * 127: it grows again");

    Datapath.Builder l = Datapath.named("long");
    Value d = l.input("a", x);
    Value e = l.input("c", x);
    Value square =
        l.convert("sq", l.multiply("square", d, d), word, Rounding.HALF_EVEN, Overflow.SATURATE);
    Value all =
        l.convert("s", l.add("sum", square, e), word, Rounding.HALF_EVEN, Overflow.SATURATE);
    Datapath full = l.output("sum", all).output(l.multiply("wide", all, all)).build();

    List<BigInteger[]> cases = Cases.random(brief.inputs(), CASES, random);
    BoundsEvaluation one = brief.bounds(CASES);
    BoundsEvaluation other = full.bounds(CASES);
    IdealEvaluation real = brief.ideal(CASES);
    IdealEvaluation same = full.ideal(CASES);
    Cases.fill(brief, one::input, cases, 0, CASES);
    Cases.fill(full, other::input, cases, 0, CASES);
    Cases.fill(brief, real::input, cases, 0, CASES);
    Cases.fill(full, same::input, cases, 0, CASES);
    one.run(CASES);
    other.run(CASES);
    real.run(CASES);
    same.run(CASES);
    for (int i = 0; i < CASES; i++) {
      assertEquals(other.low(1, 0)[i], one.low(1, 0)[i]);
      assertEquals(other.high(1, 0)[i], one.high(1, 0)[i]);
      assertEquals(same.output(1)[i], real.output(1)[i]);
    }
    assertTrue(brief.table().contains("(a * a) "), brief.table());
    assertEquals(
        List.of("a", "c", "square", "sum", "wide"),
        brief.steps().stream().map(Operand::name).toList());
  }

  @Test
  void aStepThatIsTooWideIsNamed() {
    Datapath.Builder b = Datapath.named("wide");
    Value a = b.input("a", Format.signed(80, 0));
    b.saturateTo(Format.signed(80, 0), Rounding.FLOOR);
    String refused =
        assertThrows(DatapathException.class, () -> b.multiply("square", a, a)).getMessage();
    assertTrue(refused.startsWith("Step \"square\" needs 159 bits"), refused);
  }
}
