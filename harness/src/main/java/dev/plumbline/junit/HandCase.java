package dev.plumbline.junit;

import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.cosim.Dut;
import dev.plumbline.cosim.DutException;
import dev.plumbline.cosim.DutOptions;
import dev.plumbline.cosim.InitialState;
import dev.plumbline.cosim.Trace;
import dev.plumbline.drive.CaseModule;
import dev.plumbline.evidence.ReportException;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.rtl.Port;
import dev.plumbline.text.PlainText;
import dev.plumbline.verdict.CodeText;
import dev.plumbline.verdict.KeptCase;
import java.math.BigInteger;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.stream.LongStream;

/**
 * What a DUT that a test drove by hand was given, and what it gave, row by row from its opening: a
 * case that can be run again without the test.
 */
final class HandCase {
  /** Most rows of a case; longer tests leave none. */
  static final int MOST_ROWS = 10_000;

  private static final String REFERENCE = "the outputs as they were";

  private HandCase() {}

  /** Of a DUT; empty where it was driven in another way, for too long, or has arrays for inputs. */
  static Optional<KeptCase> of(
      Dut dut, CompiledDesign model, String test, String shows, long seed) {
    boolean arrays =
        model.design().ports().stream()
            .anyMatch(
                port -> port.direction() != Port.Direction.OUTPUT && !port.unpacked().isEmpty());
    Trace trace = Trace.fromStart(dut, MOST_ROWS);
    if (arrays || trace.rows().isEmpty()) {
      return Optional.empty();
    }
    List<KeptCase.Column> columns = new ArrayList<>();
    for (Port port : trace.ports()) {
      boolean bit = port.width() == 1;
      Format whole = new Format(port.signed(), port.width(), 0);
      columns.add(bit ? KeptCase.Column.port(port.name()) : KeptCase.Column.of(port.name(), whole));
    }
    List<List<BigInteger>> rows = new ArrayList<>();
    for (Trace.Row row : trace.rows()) {
      List<BigInteger> codes = new ArrayList<>();
      for (int i = 0; i < columns.size(); i++) {
        BigInteger value = row.values().get(i);
        codes.add(columns.get(i).operand() == null ? value.abs() : value);
      }
      rows.add(codes);
    }
    return Optional.of(
        new KeptCase(
            test,
            model.design().top(),
            CaseModule.parameters(model.design()),
            REFERENCE,
            shows,
            seed,
            KeptCase.Start.RANDOM,
            0,
            columns,
            rows));
  }

  /** Runs the rows again and says what is found, in a few lines. */
  static List<String> repeat(String file, KeptCase kept, CompiledDesign model) {
    CaseModule.require(kept, model.design());
    InitialState state =
        switch (kept.start()) {
          case ZEROS -> InitialState.ZEROS;
          case ONES -> InitialState.ONES;
          case RANDOM -> InitialState.RANDOM;
        };
    DutOptions options = DutOptions.defaults().withInitialState(state).withSeed(kept.seed());
    List<String> lines = new ArrayList<>();
    try (Dut dut = model.open(options)) {
      play(kept, dut, model, lines);
    } catch (DutException e) {
      lines.add(
          "the DUT ended again: " + PlainText.lines(e.getMessage()).lines().findFirst().orElse(""));
    }
    lines.set(0, file + ": " + kept.cycles().size() + " rows run again: " + lines.get(0));
    return lines;
  }

  private static void play(KeptCase kept, Dut dut, CompiledDesign model, List<String> lines) {
    List<Port> ports = new ArrayList<>();
    for (KeptCase.Column column : kept.columns()) {
      ports.add(
          model
              .design()
              .findPort(column.name())
              .orElseThrow(
                  () ->
                      new ReportException(
                          "Case of "
                              + kept.bench()
                              + " has column \""
                              + column.name()
                              + "\"; module "
                              + kept.module()
                              + " has no such port. Mend the file, or take it away where the ports"
                              + " have changed on purpose.",
                          null)));
    }
    long first = -1;
    for (int cycle = 0; cycle < kept.cycles().size(); cycle++) {
      List<BigInteger> row = kept.cycles().get(cycle);
      for (int i = 0; i < ports.size(); i++) {
        if (ports.get(i).direction() == Port.Direction.INPUT && row.get(i) != null) {
          dut.set(ports.get(i).name(), words(ports.get(i), row.get(i)));
        }
      }
      dut.cycle();
      for (int i = 0; i < ports.size(); i++) {
        Port port = ports.get(i);
        if (port.direction() == Port.Direction.OUTPUT && row.get(i) != null) {
          BigInteger now = code(port, dut.getWords(port.name()));
          BigInteger was = row.get(i).mod(BigInteger.ONE.shiftLeft(port.width()));
          if (!now.equals(was) && (first < 0 || first == cycle)) {
            first = cycle;
            lines.add(
                "  "
                    + port.name()
                    + " is "
                    + CodeText.hex(port.width(), now)
                    + ", was "
                    + CodeText.hex(port.width(), was));
          }
        }
      }
    }
    lines.add(
        0,
        first < 0
            ? "the outputs are as they were when it was kept"
            : "outputs first differ from those kept in cycle " + first);
  }

  private static long[] words(Port port, BigInteger code) {
    BigInteger bits = code.mod(BigInteger.ONE.shiftLeft(port.width()));
    boolean negative = port.signed() && bits.testBit(port.width() - 1);
    BigInteger value = negative ? bits.subtract(BigInteger.ONE.shiftLeft(port.width())) : bits;
    return LongStream.range(0, port.words())
        .map(word -> value.shiftRight((int) (64 * word)).longValue())
        .toArray();
  }

  private static BigInteger code(Port port, long[] words) {
    BigInteger bits = BigInteger.ZERO;
    for (int word = words.length - 1; word >= 0; word--) {
      bits = bits.shiftLeft(64).or(new BigInteger(Long.toUnsignedString(words[word])));
    }
    return bits.mod(BigInteger.ONE.shiftLeft(port.width()));
  }
}
