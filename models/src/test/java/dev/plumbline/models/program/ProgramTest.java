package dev.plumbline.models.program;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.models.fixed.Format;
import java.math.BigInteger;
import java.util.List;
import java.util.function.UnaryOperator;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.MethodSource;

class ProgramTest {
  private static final SceneFormats FORMATS =
      SceneFormats.of(Format.signed(16, 16), Format.signed(2, 16));
  private static final ProgramLimits LIMITS = new ProgramLimits(12, 2, 16);
  private static final long ONE = 1L << 16;
  private static final long[] BOX = {-ONE, -ONE, -ONE, ONE, ONE, ONE};

  private static Program.Builder builder() {
    return Program.builder(FORMATS, LIMITS);
  }

  private static Program shell() {
    Program.Builder b = builder();
    Program.Label past = b.label();
    b.skip(past, BOX);
    b.begin().sphere(3, 0, 0, 0, ONE).sphere(4, 0, 0, 0, ONE / 2).difference().close();
    b.place(past).begin().halfSpace(5, 0, ONE, 0, -ONE).box(15, BOX).union().close();
    return b.end().build();
  }

  @Test
  void disassemblyShowsEveryOperationInRealNumbers() {
    assertEquals(
        """
           00  skip -1 -1 -1 1 1 1 to 6
           01  begin
           02    sphere 0 0 0 1 material 3
           03      sphere 0 0 0 0.5 material 4
        -> 04        difference
           05  close
           06  begin
           07    half_space 0 1 0 -1 material 5
           08      box -1 -1 -1 1 1 1 material 15
           09        union
           10  close
           11  end
        """,
        shell().disassembly(4));
  }

  static Stream<Arguments> faults() {
    return Stream.of(
        fault(0, "end is the last operation", b -> b),
        fault(0, "outside objects", b -> b.sphere(0, 0, 0, 0, 0).end()),
        fault(0, "outside objects", b -> b.close().end()),
        fault(1, "with exactly 1; put a solid before it", b -> b.begin().close().end()),
        fault(3, "with exactly 1; combine", b -> b.begin().box(1, BOX).box(1, BOX).close().end()),
        fault(2, "a combination takes 2", b -> b.begin().box(1, BOX).union().close().end()),
        fault(1, "inside the object begun at address 0", b -> b.begin().begin()),
        fault(2, "inside the object", b -> b.begin().box(1, BOX).add(Operation.skip(4, BOX))),
        fault(0, "without its close", b -> b.begin().box(1, BOX)),
        fault(3, "its depth is 2", b -> b.begin().box(1, BOX).box(1, BOX).box(1, BOX)),
        fault(12, "the program is too long", ProgramTest::long13),
        fault(0, "skips go forwards", b -> b.add(Operation.skip(0, BOX)).end()),
        fault(
            1,
            "skips go forwards",
            b -> b.add(Operation.skip(2, BOX)).add(Operation.skip(0, BOX)).end()),
        fault(0, "past the end", b -> b.add(Operation.skip(2, BOX)).end()),
        fault(
            0,
            "inside an object",
            b -> b.add(Operation.skip(2, BOX)).begin().box(1, BOX).close().end()),
        fault(1, "its material is 16", b -> b.begin().box(16, BOX).close().end()),
        fault(1, "its radius is 2147483648", b -> b.begin().sphere(1, 0, 0, 0, 1L << 31).close()),
        fault(1, "its normal_x is 131072", b -> b.begin().halfSpace(1, 2 * ONE, 0, 0, 0).close()),
        fault(0, "place the label", b -> b.skip(b.label(), BOX).end()));
  }

  private static Program.Builder long13(Program.Builder b) {
    for (int i = 0; i < 4; i++) {
      b.begin().box(1, BOX).close();
    }
    return b.end();
  }

  private static Arguments fault(int address, String what, UnaryOperator<Program.Builder> b) {
    return Arguments.of(address, what, b);
  }

  @ParameterizedTest(name = "at {0}: {1}")
  @MethodSource("faults")
  void namesTheOperationAtFault(int address, String what, UnaryOperator<Program.Builder> b) {
    ProgramException e = assertThrows(ProgramException.class, () -> b.apply(builder()).build());
    assertTrue(e.getMessage().contains(what), e.getMessage());
    assertEquals(address, e.address(), e.getMessage());
  }

  @Test
  void aFullMemoryAndAnEmptyProgramAreAllowed() {
    assertEquals(12, shell().length());
    assertEquals(1, builder().end().build().length());
  }

  @Test
  void standardLayoutPutsFieldsWhereItsTableHasThem() {
    WordLayout layout = WordLayout.standard(FORMATS);
    assertEquals(216, layout.width());
    BigInteger[] words = layout.encode(shell());
    // By hand from the table: target 6, opcode 3; -1.0 three times, 1.0 three times; one over 1.
    String box = "000100000001000000010000ffff0000ffff0000ffff0000";
    assertEquals(new BigInteger(box + "006003", 16), words[0]);
    assertEquals(BigInteger.ONE, words[1]);
    assertEquals(new BigInteger("0001000000010000" + "0".repeat(24) + "000034", 16), words[2]);
    assertEquals(
        new BigInteger("ffff0000" + "00000000" + "00010000" + "00000000" + "000055", 16), words[7]);
    assertEquals(new BigInteger(box + "0000f6", 16), words[8]);
    assertEquals(BigInteger.valueOf(10), words[4]);
    assertEquals(BigInteger.valueOf(8), words[9]);
    assertEquals(BigInteger.TWO, words[10]);
    assertEquals(BigInteger.ZERO, words[11]);
    assertEquals(shell(), layout.decode(List.of(words), FORMATS, LIMITS));
  }

  @Test
  void anotherLayoutScalesItsFieldsAndRefusesWhatTheyDoNotHold() {
    WordLayout.Builder b = WordLayout.builder(64).opcode(60, 4).material(48, 8);
    b.code(OperationKind.END, 15).code(OperationKind.BEGIN, 1).code(OperationKind.CLOSE, 2);
    b.code(OperationKind.SPHERE, 9);
    for (int i = 0; i < 4; i++) {
      String operand = OperationKind.SPHERE.operands().get(i);
      b.field(OperationKind.SPHERE, operand, 12 * i, Format.signed(8, 4));
    }
    WordLayout small = b.build();
    Program ball = builder().begin().sphere(7, -ONE, ONE / 16, 0, ONE).close().end().build();
    BigInteger[] words = small.encode(ball);
    assertEquals(new BigInteger("90070100" + "00001ff0", 16), words[1]);
    assertEquals(ball, small.decode(List.of(words), FORMATS, LIMITS));
    Program fine = builder().begin().sphere(7, 1, 0, 0, ONE).close().end().build();
    ProgramException e = assertThrows(ProgramException.class, () -> small.encode(fine));
    assertTrue(e.getMessage().contains("centre_x is 0.0000152587890625"), e.getMessage());
    assertEquals(1, e.address());
    ProgramException missing = assertThrows(ProgramException.class, () -> small.encode(shell()));
    assertTrue(missing.getMessage().contains("no opcode"), missing.getMessage());
  }

  @Test
  void layoutsThatClashAreRefused() {
    WordLayout.Builder clash = WordLayout.builder(8).opcode(0, 4).code(OperationKind.END, 0);
    clash.code(OperationKind.CLOSE, 0);
    assertThrows(IllegalArgumentException.class, clash::build);
    WordLayout.Builder over = WordLayout.builder(24).opcode(0, 4).code(OperationKind.END, 0);
    over.code(OperationKind.SPHERE, 1).material(2, 8);
    OperationKind.SPHERE
        .operands()
        .forEach(o -> over.field(OperationKind.SPHERE, o, 12, Format.signed(3, 0)));
    String message = assertThrows(IllegalArgumentException.class, over::build).getMessage();
    assertTrue(message.contains("another field of the operation lies there"), message);
  }

  @Test
  void wordsThatAreNoOperationAreNamed() {
    WordLayout layout = WordLayout.standard(FORMATS);
    ProgramException e =
        assertThrows(
            ProgramException.class,
            () -> layout.decode(List.of(BigInteger.valueOf(7)), FORMATS, LIMITS));
    assertTrue(e.getMessage().startsWith("word 7 at address 0: 7 is no opcode"), e.getMessage());
  }

  @Test
  void memoryFilesComeBack() {
    WordLayout layout = WordLayout.standard(FORMATS);
    BigInteger[] words = layout.encode(shell());
    StringBuilder text = new StringBuilder();
    List<String> remarks = shell().operations().stream().map(Operation::toString).toList();
    MemoryFile.write(words, layout.width(), remarks, text);
    assertEquals(54, text.indexOf(" "));
    assertEquals(List.of(words), MemoryFile.read(text.toString(), layout.width(), 64));
  }

  @Test
  void memoryFilesMayHaveCommentsAddressesAndUnderscores() {
    String text = "/* two\nlines */ 0_1 // one\n@3 ff\nF_e/**/@1 2\n";
    assertEquals(
        Stream.of(1, 2, 0, 255, 254).map(BigInteger::valueOf).toList(),
        MemoryFile.read(text, 8, 8));
    for (String wrong : List.of("1\n2\nxz", "1\n2\n100", "1\n2\n@7 1 2", "\n\n@", "\n\n_1")) {
      String message =
          assertThrows(IllegalArgumentException.class, () -> MemoryFile.read(wrong, 8, 8))
              .getMessage();
      assertTrue(message.startsWith("Memory file, line 3: "), message);
    }
  }

  /** Radius and word format as codes, and one over it by hand: 2^2F / r, halves up. */
  @ParameterizedTest(name = "radius {2} of {0} bits, {1} behind the point: {3}")
  @CsvSource({
    "32,16,196608,21845", // 1/3 = 21845.33
    "32,16,131073,32768", // 32767.75
    "32,16,1,2147483647", // 65536 does not fit
    "32,16,3,1431655765",
    "32,16,2147483647,2", // 2.000000001
    "32,16,0,2147483647",
    "32,16,-65536,2147483647",
    "8,0,2,1", // a half, up
    "8,0,3,0",
    "8,2,32,1", // 1/8 = half a code, up
    "8,2,33,0"
  })
  void wordOfASphereHoldsItsInverseRadius(int width, int fraction, long radius, long inverse) {
    Format word = Format.signed(width - fraction, fraction);
    SceneFormats formats = SceneFormats.of(word, Format.signed(2, 5));
    Program program =
        Program.builder(formats, LIMITS).begin().sphere(1, 0, 0, 0, radius).close().end().build();
    WordLayout layout = WordLayout.standard(formats);
    BigInteger[] words = layout.encode(program);
    BigInteger mask = BigInteger.ONE.shiftLeft(width).subtract(BigInteger.ONE);
    assertEquals(inverse, words[1].shiftRight(24 + 4 * width).and(mask).longValueExact());
    // It is not looked at: whatever stands there, the program is the same.
    words[1] = words[1].xor(BigInteger.valueOf(5).shiftLeft(24 + 4 * width));
    assertEquals(program, layout.decode(List.of(words), formats, LIMITS));
  }
}
