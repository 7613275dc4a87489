package dev.plumbline.fuzz;

import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.fail;

import dev.plumbline.rtl.DescriptionDoor;
import dev.plumbline.rtl.RtlException;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.util.Arrays;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.parallel.Execution;
import org.junit.jupiter.api.parallel.ExecutionMode;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/**
 * Whatever a reader is given, it gives a value or an error it declares.
 *
 * <p>A few hundred spoilt texts a reader in the gate; {@code -Dplumbline.fuzz=1000000} makes it as
 * many as that, {@code -Dplumbline.fuzz.seed=} begins at another seed, {@code
 * -Dplumbline.fuzz.only=XML,JSON} takes these readers alone. A failure names its seed.
 */
@Execution(ExecutionMode.CONCURRENT)
class ReadersTest {
  private static final int COUNT = Integer.getInteger("plumbline.fuzz", 300);
  private static final long FIRST = Long.getLong("plumbline.fuzz.seed", 1L);
  private static final List<String> ONLY =
      Arrays.stream(System.getProperty("plumbline.fuzz.only", "").split(","))
          .filter(name -> !name.isBlank())
          .toList();
  private static final int MANY = 20_000;
  private static final int LONGEST_MESSAGE = 8000;

  static Stream<Reader> readers() {
    return Reader.all().filter(reader -> ONLY.isEmpty() || ONLY.contains(reader.name()));
  }

  private static void check(Reader reader, byte[] text, String what) {
    try {
      reader.read().read(text);
    } catch (Exception | Error e) {
      if (reader.declared().stream().noneMatch(declared -> declared.isInstance(e))) {
        fail(reader + ", " + what + ": " + e, e);
      }
      if (String.valueOf(e.getMessage()).length() > LONGEST_MESSAGE) {
        fail(reader + ", " + what + ": a message of " + e.getMessage().length() + " characters");
      }
    }
  }

  @ParameterizedTest
  @MethodSource("readers")
  void aSpoiltTextGivesAValueOrTheDeclaredError(Reader reader) {
    List<List<String>> texts = reader.texts().stream().map(Mutations::tokens).toList();
    for (long seed = FIRST; seed < FIRST + COUNT; seed++) {
      // Most are of the smallest few, since they are the quickest; of a million even more.
      int every = seed < MANY ? 16 : 512;
      List<String> text =
          seed % every == 0
              ? texts.get((int) (seed / every % texts.size()))
              : texts.get((int) (seed / 16 % Math.min(4, texts.size())));
      check(reader, Mutations.of(text, seed), "seed " + seed);
    }
  }

  @ParameterizedTest
  @MethodSource("readers")
  @Tag("thorough")
  void anythingDeepGivesTheDeclaredError(Reader reader) {
    for (String bracket :
        List.of("[", "{", "(", "<a>", "part take ", "/*", "\"a\":[", "%Error: ", "9", "-", "\n")) {
      check(reader, bracket.repeat(20_000).getBytes(StandardCharsets.UTF_8), bracket);
    }
    check(reader, new byte[0], "nothing");
  }

  /** The chain of types is legal, only longer than any design has; the ring is not. */
  @Test
  void typesThatNestFarOrContainThemselvesAreRefused() throws IOException {
    StringBuilder types = new StringBuilder();
    for (int i = 2; i < 3002; i++) {
      types.append("<refdtype id=\"%d\" name=\"t\" sub_dtype_id=\"%d\"/>".formatted(i, i + 1));
    }
    for (String last :
        List.of(
            "<basicdtype id=\"3002\" name=\"logic\"/>",
            "<refdtype id=\"3002\" name=\"t\" sub_dtype_id=\"2\"/>",
            "<unpackarraydtype id=\"3002\" sub_dtype_id=\"3002\"/>")) {
      String xml =
          "<?xml version=\"1.0\" ?><verilator_xml><netlist><module name=\"m\""
              + " topModule=\"1\"><var name=\"a\" dir=\"input\" dtype_id=\"2\"/></module>"
              + "<typetable>"
              + types
              + last
              + "</typetable></netlist></verilator_xml>";

      assertThrows(
          RtlException.class, () -> DescriptionDoor.xml(xml.getBytes(StandardCharsets.UTF_8)));
    }
  }
}
