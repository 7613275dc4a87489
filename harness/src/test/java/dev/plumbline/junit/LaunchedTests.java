package dev.plumbline.junit;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertSame;
import static org.junit.jupiter.api.Assertions.assertTrue;

import dev.plumbline.check.Bench;
import dev.plumbline.contract.Contract;
import dev.plumbline.contract.Reference;
import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.cosim.Dut;
import dev.plumbline.lockstep.Executor;
import dev.plumbline.lockstep.LockstepBench;
import dev.plumbline.models.datapath.Operand;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.program.ProgramLimits;
import dev.plumbline.models.program.SceneFormats;
import dev.plumbline.models.traversal.Predictor;
import java.util.List;
import java.util.Map;
import java.util.concurrent.BrokenBarrierException;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.CyclicBarrier;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.TimeoutException;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.RepeatedTest;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInfo;
import org.junit.jupiter.api.extension.ExtendWith;
import org.junit.jupiter.api.parallel.Execution;
import org.junit.jupiter.api.parallel.ExecutionMode;

/** Tests that {@link DesignExtensionTest} runs; the build itself does not take them for its own. */
final class LaunchedTests {
  /** What tests noted, by their names; for the launching test to look at. */
  static final Map<String, Object> NOTES = new ConcurrentHashMap<>();

  private LaunchedTests() {}

  /** The bell strikes hours + quarters, a cycle after it is told. */
  static Contract contract() {
    return Contract.of(
            Reference.of(
                "bell",
                List.of(
                    new Operand("hours", Format.unsigned(8, 0)),
                    new Operand("quarters", Format.unsigned(8, 0))),
                List.of(new Operand("strikes", Format.unsigned(9, 0))),
                (in, out) -> out[0] = in[0] + in[1]))
        .valid("in_valid", "out_valid")
        .reset("rst")
        .latency(1)
        .build();
  }

  static void ring(Dut dut, int hours, int quarters) {
    dut.set("rst", 0);
    dut.set("in_valid", 1);
    dut.set("in_hours", hours);
    dut.set("in_quarters", quarters);
    dut.cycles(2);
  }

  /** One of each parameter. */
  @DesignUnderTest(sources = "bell.sv", top = "bell")
  static class Parameters {
    @Test
    void areBoundToTheDesign(CompiledDesign model, Dut dut, Bench.Builder bench, Seed seed) {
      assertEquals("bell", model.design().top());
      ring(dut, 7, 3);
      assertEquals(10, dut.get("out_strikes"));
      NOTES.put("dut", dut);
      NOTES.put("seed", seed);
      NOTES.put("verdict", bench.contract(contract()).cases(2_000).check());
    }

    @Test
    void modelsAreBuiltOnce(CompiledDesign one, CompiledDesign other) {
      assertSame(one, other);
    }

    @Nested
    class Inside {
      @Test
      void theAnnotationAroundCounts(CompiledDesign model) {
        assertEquals("bell", model.design().top());
      }

      @Test
      @DesignUnderTest(sources = "bell.sv", top = "bell", parameters = "Crack=5")
      void theNearestAnnotationCounts(Dut dut) {
        ring(dut, 5, 3);
        assertEquals(9, dut.get("out_strikes"));
      }
    }
  }

  /** A bench on a bell that is cracked at five. */
  @DesignUnderTest(sources = "bell.sv", top = "bell", parameters = "Crack=5")
  static class KeptCracked {
    @Test
    void strikes(Bench.Builder bench) {
      bench.named("bell").contract(contract()).cases(2_000).check();
    }

    @Test
    @Cases("kept")
    void strikesAsKept(Bench.Builder bench) {
      bench.named("kept bell").contract(contract()).cases(0).check();
    }
  }

  /** The same bench on a bell that is whole, whatever its parameter says. */
  @DesignUnderTest(sources = "mended/bell.sv", top = "bell", parameters = "Crack=5")
  static class KeptWhole {
    @Test
    void strikes(Bench.Builder bench) {
      bench.named("bell").contract(contract()).cases(2_000).check();
    }

    @Test
    void strikesUnderAnotherName(Bench.Builder bench) {
      bench.contract(contract()).cases(100).check();
    }

    @Test
    void strikesAsKept(@Cases("kept") Bench.Builder bench) {
      NOTES.put("kept", bench.contract(contract()).cases(2_000).check());
    }

    @RepeatedTest(3)
    void isCounted() {
      NOTES.merge("count", 1, (a, b) -> (Integer) a + (Integer) b);
    }
  }

  /** Drives its DUT by hand and fails. */
  @DesignUnderTest(sources = "bell.sv", top = "bell")
  static class ByHand {
    @Test
    void strikesTwelve(Dut dut) {
      for (int hours = 0; hours < 80; hours++) {
        ring(dut, hours % 12, 3);
      }
      assertEquals(-1, dut.get("out_strikes"));
    }
  }

  /** Drives its DUT into logic that does not settle. */
  @DesignUnderTest(sources = "flutter.sv", top = "flutter")
  static class Fluttering {
    @Test
    void opens(Dut dut) {
      dut.set("open", 0);
      dut.cycle();
      dut.set("open", 1);
      dut.cycle();
    }
  }

  /** The same test of a bell that strikes otherwise, and it expects that. */
  @DesignUnderTest(sources = "mended/bell.sv", top = "bell")
  static class OtherByHand {
    @Test
    void strikesTwelve(Dut dut) {
      ring(dut, 7, 3);
      assertEquals(11, dut.get("out_strikes"));
    }
  }

  /** Passes and keeps three cycles. */
  @DesignUnderTest(sources = "bell.sv", top = "bell", waveform = "2-4")
  static class Watched {
    @Test
    void rings(Dut dut) {
      for (int hours = 0; hours < 12; hours++) {
        ring(dut, hours, 1);
      }
      assertEquals(12, dut.get("out_strikes"));
    }
  }

  /** A DUT that wakes up by chance. */
  @DesignUnderTest(sources = "bell.sv", top = "bell")
  static class WakingUp {
    @Test
    void first(Dut dut) {
      dut.cycle(); // nothing is valid
      NOTES.put("first wakes up", dut.get("out_strikes"));
    }

    @Test
    void second(Dut dut) {
      dut.cycle(); // nothing is valid
      NOTES.put("second wakes up", dut.get("out_strikes"));
    }
  }

  /** Each notes what it draws first. */
  @DesignUnderTest
  static class Streams {
    private static void note(TestInfo info, Seed seed) {
      NOTES.put(info.getDisplayName(), seed.stream().next());
    }

    @Test
    void first(TestInfo info, Seed seed) {
      note(info, seed);
    }

    @Test
    void second(TestInfo info, Seed seed) {
      note(info, seed);
    }

    @Test
    void second(Seed seed, TestInfo info) {
      NOTES.put("overloaded", seed.stream().next());
    }

    @RepeatedTest(3)
    void again(TestInfo info, Seed seed) {
      note(info, seed);
    }
  }

  /** The same name of a test in another class. */
  @DesignUnderTest
  static class OtherStreams {
    @Test
    void first(Seed seed) {
      NOTES.put("other first", seed.stream().next());
      assertEquals(seed.stream().next(), seed.stream().next(), "from its start, every time");
      NOTES.put("other first, order", seed.stream("order").next());
    }
  }

  /** Holds the bell to its contract, which it breaks. */
  @DesignUnderTest(sources = "bell.sv", top = "bell", parameters = "Crack=99")
  static class Cracked {
    @Test
    void strikesTheHours(Bench.Builder bench) {
      bench.contract(contract()).cases(5_000).check();
    }
  }

  /** Holds an executor that never answers to the model. */
  @DesignUnderTest(sources = "stopped.sv", top = "stopped")
  static class Stopped {
    @Test
    void followsTheModel(LockstepBench.Builder bench) {
      SceneFormats formats = SceneFormats.of(Format.signed(8, 8), Format.signed(2, 8));
      Executor executor =
          Executor.of(formats, new ProgramLimits(64, 3, 8))
              .timing(5, 6, Predictor.Policy.NONE, 0)
              .build();
      bench.executor(executor).cases(100).check();
    }
  }

  /** Fails in different places, after the DUT printed. */
  @DesignUnderTest(sources = "bell.sv", top = "bell", parameters = "Crack=99")
  static class Failing {
    @Test
    void inTheTest(Dut dut) {
      ring(dut, 99, 1);
      assertEquals(100, dut.get("out_strikes"));
    }

    @Test
    void notAtAll(Dut dut) {
      ring(dut, 99, 2);
    }
  }

  /** Fails before the test. */
  @DesignUnderTest(sources = "bell.sv", top = "bell", parameters = "Crack=99")
  static class FailingBefore {
    @BeforeEach
    void wind(Dut dut) {
      ring(dut, 99, 3);
      assertTrue(false, "the spring broke");
    }

    @Test
    void neverReached() {}
  }

  /** Two at once, each with a bell of its own; both fail. */
  @DesignUnderTest(sources = "bell.sv", top = "bell", parameters = "Crack=99")
  @Execution(ExecutionMode.CONCURRENT)
  static class SideBySide {
    static final CyclicBarrier BOTH = new CyclicBarrier(2);

    private static void meet() {
      try {
        BOTH.await(120, TimeUnit.SECONDS); // a test alone fails in place of waiting for ever
      } catch (InterruptedException | BrokenBarrierException | TimeoutException e) {
        throw new AssertionError("the other test does not run at the same time", e);
      }
    }

    private static void work(Dut dut, Seed seed, Bench.Builder bench, int quarters) {
      meet();
      for (int i = 0; i < 50; i++) {
        ring(dut, i, quarters);
        assertEquals(i + quarters, dut.get("out_strikes"));
      }
      NOTES.put("seed " + quarters, seed.value());
      NOTES.put("verdict " + quarters, bench.contract(contract()).cases(3_000).run());
      ring(dut, 99, quarters);
      meet();
      assertEquals(99 + quarters, dut.get("out_strikes"));
    }

    @Test
    void east(Dut dut, Seed seed, Bench.Builder bench) {
      work(dut, seed, bench, 11);
    }

    @Test
    void west(Dut dut, Seed seed, Bench.Builder bench) {
      work(dut, seed, bench, 22);
    }
  }

  /** A file that is not there. */
  @DesignUnderTest(sources = "gone.sv", top = "bell")
  static class NoSuchFile {
    @Test
    void test(Dut dut) {}
  }

  /** A module that is not there. */
  @DesignUnderTest(sources = "bell.sv", top = "gong")
  static class NoSuchTop {
    @Test
    void test(Dut dut) {}
  }

  /** A parameter that is not there. */
  @DesignUnderTest(sources = "bell.sv", top = "bell", parameters = "Clapper=3")
  static class NoSuchParameter {
    @Test
    void test(Dut dut) {}
  }

  /** A parameter without a value. */
  @DesignUnderTest(sources = "bell.sv", top = "bell", parameters = "Crack")
  static class NoValue {
    @Test
    void test(Dut dut) {}
  }

  /** No sources at all. */
  @DesignUnderTest
  static class NoSources {
    @Test
    void test(Dut dut) {}
  }

  /** No annotation. */
  @ExtendWith(DesignExtension.class)
  static class NoAnnotation {
    @Test
    void test(Dut dut) {}
  }
}
