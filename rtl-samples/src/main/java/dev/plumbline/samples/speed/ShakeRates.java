package dev.plumbline.samples.speed;

import dev.plumbline.rtl.Design;
import dev.plumbline.rtl.RtlSource;
import dev.plumbline.samples.SampleRtl;
import dev.plumbline.toolchain.Elaborator;
import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * How fast {@code plumbline shake} drives designs of ten kinds, none of them the sample chip's,
 * beside a bare C++ bench that draws the same inputs and arrives at the same digest.
 */
final class ShakeRates {
  private static final long CYCLES = 20_000_000;
  private static final String SEED = "20261130";
  private static final Pattern TOLD =
      Pattern.compile(
          "(?s).* s, (\\d+) cycles a second; (\\d+\\.\\d+) s of processor time\\s+"
              + "digest (\\p{XDigit}{16}) cycles \\d+\\s*");

  private static final List<Driven> DESIGNS =
      List.of(
          new Driven("trades/half_sum.v", "half_sum", "clock", ""),
          new Driven("trades/level_shift.v", "level_shift", "", ""),
          new Driven("trades/page_seal.v", "PAGE_SEAL", "CLK_I", "ARST_N_I:low"),
          new Driven("trades/tide_fir.v", "tide_fir", "clk_i", "rst_ni:low"),
          new Driven("trades/turnstile.v", "turnstile", "ck", "clr_n:low"),
          new Driven("foreign/planet.v", "planet", "clock", "rst_n:low"),
          new Driven("recipes/label_crc.v", "label_crc", "clk", "rst"),
          new Driven("recipes/sun_height.v", "sun_height", "clk", "rst"),
          new Driven("recipes/crate_volume.v", "crate_volume", "clk", "rst"),
          new Driven("recipes/chime_cpu.v", "chime_cpu", "clk", "rst"));

  private final Speeds speeds;
  private final Path folder;
  private final int repetitions;

  /** A design and what is driven apart; both empty for none. */
  private record Driven(String file, String top, String clock, String reset) {
    Path path() {
      return SampleRtl.FOLDER.resolve("../../harness/src/test/rtl").normalize().resolve(file);
    }
  }

  ShakeRates(Speeds speeds, Path folder, int repetitions) {
    this.speeds = speeds;
    this.folder = folder;
    this.repetitions = repetitions;
  }

  void measure() throws IOException {
    Sample clock = new Sample();
    Sample processor = new Sample();
    for (Driven driven : DESIGNS) {
      measure(driven, clock, processor);
    }
    speeds.add("shake", "of all ten, to the bare bench", clock, "ratio", clock.median(), "0.8");
    speeds.add(
        "shake",
        "of all ten, to the bare bench, by processor time",
        processor,
        "ratio",
        processor.median(),
        "0.8");
  }

  private void measure(Driven driven, Sample clock, Sample processor) throws IOException {
    RtlSource source = RtlSource.of(driven.path()).withTop(driven.top());
    Design design = Elaborator.elaborate(source);
    StockModel stock =
        new StockModel(source, design, folder.resolve("shake_" + driven.top()))
            .with(List.of("--no-assert", "--x-assign", "0"));
    stock.build("shake", new ShakeLoop(design, driven.clock(), driven.reset()).code());
    Sample bare = new Sample();
    Sample bareProcessor = new Sample();
    Sample shake = new Sample();
    Sample shakeProcessor = new Sample();
    shake(driven); // builds it
    for (int i = 0; i < repetitions; i++) {
      String[] words = stock.run("shake", Long.toString(CYCLES), SEED);
      bare.add(CYCLES / Double.parseDouble(words[0]));
      bareProcessor.add(CYCLES / Double.parseDouble(words[1]));
      Matcher told = shake(driven);
      shake.add(Double.parseDouble(told.group(1)));
      shakeProcessor.add(CYCLES / Double.parseDouble(told.group(2)));
      if (!told.group(3).equals(words[2])) {
        throw new IllegalStateException(
            driven.top() + ": shake arrives at " + told.group(3) + ", the bench at " + words[2]);
      }
    }
    clock.add(rows(driven, bare, shake, "cycles/s"));
    processor.add(rows(driven, bareProcessor, shakeProcessor, "cycles/cpu s"));
  }

  private double rows(Driven driven, Sample bare, Sample shake, String unit) {
    double ratio = shake.median() / bare.median();
    speeds.add("shake", driven.top() + ": bare C++ bench, -O3", bare, unit, 1, "");
    speeds.add("shake", driven.top() + ": plumbline shake", shake, unit, ratio, "0.8");
    return ratio;
  }

  /** As a user has it: a process of its own, whose JVM is cold. */
  private static Matcher shake(Driven driven) throws IOException {
    List<String> words = new ArrayList<>();
    String cache = System.getProperty("plumbline.cache", "");
    if (!cache.isEmpty()) {
      words.addAll(List.of("env", "JDK_JAVA_OPTIONS=-Dplumbline.cache=" + cache));
    }
    words.add(SampleRtl.FOLDER.getParent().resolveSibling("harness/bin/plumbline").toString());
    words.addAll(List.of("shake", "--top", driven.top(), "--seed", SEED));
    words.addAll(List.of("--cycles", Long.toString(CYCLES)));
    if (!driven.reset().isEmpty()) {
      words.addAll(List.of("--reset", driven.reset()));
    }
    words.add(driven.path().toString());
    String printed = StockModel.command(words);
    Matcher told = TOLD.matcher(printed);
    if (!told.find()) {
      throw new IllegalStateException("plumbline shake printed no rate and digest: " + printed);
    }
    return told;
  }
}
