package dev.plumbline.models.program;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.parsing.TextException;
import dev.plumbline.models.scene.RandomScenes;
import dev.plumbline.models.scene.Scene;
import java.math.BigInteger;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class LayoutTextTest {
  private static final SceneFormats FORMATS =
      SceneFormats.of(Format.signed(16, 16), Format.signed(2, 16));
  private static final SceneFormats COARSE =
      SceneFormats.of(Format.signed(7, 9), Format.signed(2, 10));
  private static final ProgramLimits LIMITS = new ProgramLimits(1024, 8, 256);

  /**
   * Another chip's: other order, places, widths, opcodes and scaling; a sphere's radius has no
   * sign.
   */
  private static final String OTHER =
      """
      word 160 bits
      opcode in bits 155 to 159
      end is 31
      begin is 1
      close is 2
      skip is 20
        target in bits 96 to 105
        max_x in bits 0 to 15 with 9 fraction bits
        max_y in bits 16 to 31 with 9 fraction bits
        max_z in bits 32 to 47 with 9 fraction bits
        min_x in bits 48 to 63 with 9 fraction bits
        min_y in bits 64 to 79 with 9 fraction bits
        min_z in bits 80 to 95 with 9 fraction bits
      sphere is 9
        radius in bits 140 to 154 unsigned with 9 fraction bits
        material in bits 0 to 7
        centre_z in bits 8 to 24 with 10 fraction bits
        centre_y in bits 25 to 41 with 10 fraction bits
        centre_x in bits 42 to 58 with 10 fraction bits
      half_space is 8
        level in bits 0 to 15 with 9 fraction bits
        material in bits 100 to 107
        normal_x in bits 16 to 27 with 10 fraction bits
        normal_y in bits 28 to 39 with 10 fraction bits
        normal_z in bits 40 to 52 with 11 fraction bits
      box is 7
        min_x in bits 0 to 15 with 9 fraction bits
        min_y in bits 32 to 47 with 9 fraction bits
        min_z in bits 64 to 79 with 9 fraction bits
        max_x in bits 16 to 31 with 9 fraction bits
        max_y in bits 48 to 63 with 9 fraction bits
        max_z in bits 80 to 95 with 9 fraction bits
        material in bits 96 to 103
      union is 16
      intersection is 17
      difference is 18
      """;

  private static void assertComesBack(WordLayout layout, SceneFormats formats) {
    Random random = new Random(9);
    for (int i = 0; i < 200; i++) {
      Scene scene = new RandomScenes(random, 10, false).scene(1 + random.nextInt(6), 2, true);
      Program program = scene.program(formats, LIMITS);
      StringBuilder file = new StringBuilder();
      MemoryFile.write(layout.encode(program), layout.width(), List.of(), file);
      List<BigInteger> words = MemoryFile.read(file.toString(), layout.width(), LIMITS.length());
      assertEquals(program, layout.decode(words, formats, LIMITS));
    }
  }

  @Test
  void programsOfTheStandardLayoutComeBackFromMemoryFiles() {
    assertComesBack(WordLayout.standard(FORMATS), FORMATS);
  }

  @Test
  void programsOfALayoutThatIsOnlyTextComeBackFromMemoryFiles() {
    assertComesBack(WordLayout.parse(OTHER), COARSE);
  }

  @Test
  void fieldsLieWhereTheTextPutsThemScaledAsItDeclares() {
    Program program =
        Scene.parse("piece a take sphere at 1.5, -0.5, 0.25 radius 63.5 of 170 done")
            .program(COARSE, LIMITS);
    BigInteger word = WordLayout.parse(OTHER).encode(program)[1];
    // By hand: 9 in the top five bits; 63.5 in LSB of 2^-9; 10 fraction bits the rest.
    BigInteger expected =
        BigInteger.valueOf(9)
            .shiftLeft(155)
            .or(BigInteger.valueOf(32512).shiftLeft(140))
            .or(BigInteger.valueOf(1536).shiftLeft(42))
            .or(BigInteger.valueOf((1 << 17) - 512).shiftLeft(25))
            .or(BigInteger.valueOf(256).shiftLeft(8))
            .or(BigInteger.valueOf(170));
    assertEquals(expected.toString(16), word.toString(16));
  }

  @Test
  void whatIsPrintedIsTheSameLayout() {
    assertEquals(OTHER.lines().sorted().toList(), printed(OTHER).lines().sorted().toList());
    WordLayout standard = WordLayout.standard(FORMATS);
    Scene scene = new RandomScenes(new Random(1), 10, false).scene(30, 3, true);
    Program program = scene.program(FORMATS, LIMITS);
    assertArrayEquals(
        standard.encode(program), WordLayout.parse(standard.toString()).encode(program));
  }

  private static String printed(String text) {
    return WordLayout.parse(text).toString();
  }

  @Test
  void aValueThatAFieldDoesNotHoldIsRefusedWithItsAddress() {
    Program fine =
        Scene.parse("piece a take sphere at 0, 0, 0 radius 64 of 1 done").program(FORMATS, LIMITS);
    WordLayout layout = WordLayout.parse(OTHER);
    ProgramException e = assertThrows(ProgramException.class, () -> layout.encode(fine));
    assertEquals(
        "sphere at address 1: radius is 64: a field of u6.9 does not hold it exactly; change the"
            + " scene or the layout.",
        e.getMessage());
  }

  @ParameterizedTest(name = "{0} for {1}: {4}")
  @CsvSource(
      delimiter = '|',
      value = {
        "word 160 bits|word 160 bit|1|10|\"bit\" in line 1, column 10: allowed here is bits",
        "155 to 159|155 to 154|2|23|the highest bit, a whole number from 155 to 170",
        "155 to 159|156 to 160|3|1|field \"opcode\" of end in bits 156 to 160 in line 3, column 1:",
        "begin is 1|begin is 31|4|1|Opcode 31 of begin in line 4, column 1: end has it",
        "begin is 1|begin is 1 target|4|12|\"target\" in line 4, column 12: allowed here is a"
            + " field",
        "begin is 1|begins is 1|4|1|or another operation of [begin, close, skip",
        "target in bits 96|target in bits 95|6|1|another field of the operation lies there",
        "material in bits 0 to 7||14|1|sphere without the fields [material]",
        "end is 31||37|1|Layout without an end",
        "0 to 7|0 to 7 unsigned|16|27|\"unsigned\" in line 16, column 27: allowed here is a field",
        "unsigned with 9|unsigned with x|15|43|the number of fraction bits, a whole number",
      })
  void saysWhatIsWrongWithALayout(String text, String by, int line, int column, String message) {
    String wrong = OTHER.replaceFirst(text, by == null ? "" : by);
    TextException e = assertThrows(TextException.class, () -> WordLayout.parse(wrong));
    assertTrue(e.getMessage().startsWith("word layout: "), e.getMessage());
    assertTrue(e.getMessage().contains(message), e.getMessage());
    assertEquals(line + " " + column, e.line() + " " + e.column(), e.getMessage());
  }
}
