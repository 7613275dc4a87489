package dev.plumbline.samples.chip;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.cosim.Dut;
import dev.plumbline.cosim.DutEndedException;
import dev.plumbline.samples.SampleExecutor;
import dev.plumbline.toolchain.BuildOptions;
import java.util.function.Consumer;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.parallel.Execution;
import org.junit.jupiter.api.parallel.ExecutionMode;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** What the headers ask of those around a block is asserted: each of it, violated on purpose. */
@Execution(ExecutionMode.CONCURRENT)
class PreconditionsTest {
  private static Dut open(CompiledDesign model) {
    Dut dut = model.open();
    dut.set("rst", 1);
    dut.cycles(2);
    dut.set("rst", 0);
    return dut;
  }

  /** The steps end the DUT in their last cycle, by the assertion of that name. */
  private static void fails(Dut dut, String assertion, Consumer<Dut> last) {
    DutEndedException ended = assertThrows(DutEndedException.class, () -> last.accept(dut));
    assertEquals(DutEndedException.Kind.ASSERTION, ended.kind(), ended.getMessage());
    assertTrue(ended.getMessage().contains(assertion), ended.getMessage());
  }

  /**
   * {@code u} pushes, {@code o} pops, {@code r} replaces two, {@code b} pushes and pops at once.
   */
  @ParameterizedTest
  @CsvSource({
    "uuob, one_action_at_most",
    "uuuu, room_for_what_is_pushed",
    "uoo, a_list_to_pop",
    "ur, two_lists_to_replace",
    "uuror, two_lists_to_replace"
  })
  void aStackOfThreeLists(String actions, String assertion) {
    try (Dut dut = open(ChipBlock.model("list_stack", "S=3", "WIDTH=8"))) {
      for (int i = 0; i < actions.length(); i++) {
        char action = actions.charAt(i);
        dut.set("push", action == 'u' || action == 'b' ? 1 : 0);
        dut.set("pop", action == 'o' || action == 'b' ? 1 : 0);
        dut.set("replace_two", action == 'r' ? 1 : 0);
        if (i < actions.length() - 1) {
          dut.cycle();
        }
      }
      fails(dut, assertion, Dut::cycle);
    }
  }

  /** Ends from the nearest on, in hexadecimal, two digits each. */
  @ParameterizedTest
  @Tag("thorough")
  @CsvSource({
    "3, 0, 0, 0, no_more_than_c_spans",
    "0, 0, 3, 0, no_more_than_c_spans",
    "1, 0505, 0, 0, left_ascends",
    "2, 06050403, 1, 0605, right_ascends_not",
    "1, 0605, 2, 08070505, right_ascends",
    "2, 08070603, 2, 080706FF, right_ascends_not",
    "1, 06FF, 1, 80FF, right_ascends"
  })
  void listsOfTwoSpans(int left, String leftEnds, int right, String rightEnds, String assertion) {
    try (Dut dut = open(ChipBlock.model("span_combiner", "W=8", "SURFACE=1", "C=2"))) {
      dut.set("in_valid", 1);
      dut.set("in_left_count", left);
      dut.set("in_left_distance", Long.parseLong(leftEnds, 16));
      dut.set("in_right_count", right);
      dut.set("in_right_distance", Long.parseLong(rightEnds, 16));
      if (assertion.endsWith("_not")) {
        dut.cycle(); // what is allowed goes on
      } else {
        fails(dut, assertion, Dut::cycle);
      }
    }
  }

  @Test
  @Tag("thorough")
  void aQueueThatIsFull() {
    try (Dut dut = open(ChipBlock.model("operation_queue", "Q=2", "WIDTH=4"))) {
      dut.set("in_valid", 1);
      dut.cycles(4); // one stands at the output, one behind it, two wait
      fails(dut, "room_for_what_joins", Dut::cycle);
    }
  }

  @Test
  @Tag("thorough")
  void inversesOneAfterTheOther() {
    try (Dut dut = open(ChipBlock.model("ray_inverses"))) {
      dut.set("start", 1);
      dut.cycle();
      fails(dut, "one_at_a_time", Dut::cycle);
    }
  }

  /** Loads between rays are taken; one during a ray ends the DUT. */
  @Test
  @Tag("thorough")
  void aProgramLoadedDuringARay() {
    CompiledDesign model =
        CompiledDesign.of(
            SampleExecutor.SMALL.rtl(), BuildOptions.defaults().withOptimisation(false));
    try (Dut dut = open(model)) {
      dut.set("load_valid", 1);
      dut.cycle(); // an end
      dut.set("load_valid", 0);
      dut.set("ray_valid", 1);
      dut.cycle();
      dut.set("ray_valid", 0);
      dut.cycles(5);
      dut.set("load_valid", 1);
      fails(dut, "no_load_during_a_ray", Dut::cycle);
    }
  }
}
