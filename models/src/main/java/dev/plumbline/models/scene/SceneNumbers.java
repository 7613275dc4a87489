package dev.plumbline.models.scene;

import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.parsing.TextException;
import dev.plumbline.models.parsing.Tokens;
import dev.plumbline.models.program.OperationKind;
import java.math.BigDecimal;
import java.math.BigInteger;
import java.math.RoundingMode;
import java.util.List;
import java.util.Map;

/** What the numbers and names of a scene have to be, and how a number becomes a code. */
final class SceneNumbers {
  private static final int AXES = 3;

  private SceneNumbers() {}

  /** Numbers in one notation each, so that equal ones are equal; checked. */
  static List<BigDecimal> operands(OperationKind kind, List<BigDecimal> numbers) {
    List<String> names = kind.operands();
    if (numbers.size() != names.size()) {
      throw new IllegalArgumentException(
          kind + " of " + numbers.size() + " numbers: it takes " + names + ".");
    }
    if (kind == OperationKind.SPHERE && numbers.get(AXES).signum() < 0) {
      throw new IllegalArgumentException(
          "Sphere of radius " + numbers.get(AXES).toPlainString() + ": it has to be 0 or more.");
    }
    for (int i = 0; names.size() == 2 * AXES && i < AXES; i++) {
      if (numbers.get(i).compareTo(numbers.get(i + AXES)) > 0) {
        throw new IllegalArgumentException(
            "Box from "
                + numbers.get(i).toPlainString()
                + " to "
                + numbers.get(i + AXES).toPlainString()
                + " along "
                + "xyz".charAt(i)
                + ": it has to run upwards; swap the two.");
      }
    }
    return numbers.stream().map(BigDecimal::stripTrailingZeros).toList();
  }

  static void check(BigDecimal unit, Map<String, Integer> materials, List<Scene.Item> items) {
    if (unit != null && unit.signum() <= 0) {
      throw new IllegalArgumentException(
          "Scene with a unit of " + unit.toPlainString() + " mm: it has to be above 0.");
    }
    materials.forEach(
        (name, number) -> {
          checkName(name, "a material");
          if (number < 0) {
            throw new IllegalArgumentException(
                "Material " + name + " of number " + number + ": it has to be 0 or more.");
          }
        });
    checkNames(items);
  }

  private static void checkNames(List<Scene.Item> items) {
    for (Scene.Item item : items) {
      if (item instanceof Scene.Within within) {
        checkNames(within.items());
      } else if (item instanceof Scene.Piece piece) {
        checkName(piece.name(), "a piece");
      }
    }
  }

  private static void checkName(String name, String of) {
    try {
      Tokens tokens = new Tokens("scene", name);
      tokens.name(of, SceneReader.WORDS);
      if (!tokens.peek().isEnd()) {
        throw tokens.unexpected("nothing more");
      }
    } catch (TextException e) {
      throw new IllegalArgumentException("Name \"" + name + "\": " + e.getMessage(), e);
    }
  }

  /** The nearest code of a number, halves away from zero; it may lie outside the format. */
  static BigInteger code(BigDecimal number, BigDecimal unit, Format format) {
    BigDecimal places = number.multiply(lsbs(format));
    return places
        .divide(unit == null ? BigDecimal.ONE : unit, 0, RoundingMode.HALF_UP)
        .toBigInteger();
  }

  /** The number of a code, exactly. */
  static BigDecimal number(BigInteger code, BigDecimal unit, Format format) {
    BigDecimal words = format.toDecimal(code);
    return unit == null ? words : words.multiply(unit).stripTrailingZeros();
  }

  private static BigDecimal lsbs(Format format) {
    BigDecimal two = BigDecimal.valueOf(2);
    int bits = format.fractionBits();
    return bits >= 0 ? two.pow(bits) : new BigDecimal("0.5").pow(-bits);
  }
}
