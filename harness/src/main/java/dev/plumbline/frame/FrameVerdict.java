package dev.plumbline.frame;

import dev.plumbline.models.datapath.Operand;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.picture.Picture;
import dev.plumbline.models.picture.PictureDifference;
import dev.plumbline.verdict.Checked;
import dev.plumbline.verdict.Fact;
import dev.plumbline.verdict.Findings;
import dev.plumbline.verdict.Inside;
import dev.plumbline.verdict.Layout;
import dev.plumbline.verdict.Mismatch;
import dev.plumbline.verdict.Origin;
import dev.plumbline.verdict.Row;
import dev.plumbline.verdict.Verdict;
import java.math.BigInteger;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalInt;

/** Makes a verdict of what came out of a frame. */
final class FrameVerdict {
  private static final int PIXEL_BITS = 16;
  private static final int COLOUR_BITS = 24;
  private static final int COLOUR = 2; // among the outputs

  private final PixelPorts ports;
  private final FrameReference reference;
  private final FrameRun run;
  private final Picture ideal; // or null
  private final List<Fact> told; // of the scene

  FrameVerdict(
      PixelPorts ports, FrameReference reference, FrameRun run, Picture ideal, List<Fact> told) {
    this.told = told;
    this.ports = ports;
    this.reference = reference;
    this.run = run;
    this.ideal = ideal;
  }

  /**
   * The verdict.
   *
   * @param text what the DUT printed
   * @param ended why the DUT ended by itself; empty where it did not
   */
  Verdict of(String bench, Checked checked, Origin origin, String text, String ended) {
    Optional<String> neverHigh = ended.isEmpty() ? run.neverHigh() : Optional.empty();
    boolean mismatch = run.faults > 0 || run.missing() > 0 || neverHigh.isPresent();
    Verdict.Outcome outcome =
        !ended.isEmpty()
            ? Verdict.Outcome.DUT_ENDED
            : mismatch ? Verdict.Outcome.MISMATCH : Verdict.Outcome.PASS;
    List<Mismatch> kept = new ArrayList<>();
    List<Row> rows = new ArrayList<>();
    run.strikes.forEach(strike -> add(strike, kept, rows));
    if (run.missing() > 0 && ended.isEmpty()) {
      kept.add(missing(Mismatch.Kind.RESULT_LOST, run.firstMissing(), ports.valid()));
    }
    neverHigh.ifPresent(port -> kept.add(missing(Mismatch.Kind.VALID_MISSING, -1, port)));
    boolean judged = outcome == Verdict.Outcome.MISMATCH;
    Findings findings =
        new Findings(
            judged ? 0 : -1,
            run.faults + run.missing() + (neverHigh.isPresent() ? 1 : 0),
            judged ? kept : List.of(),
            layout(),
            rows,
            facts(),
            List.of(),
            text,
            Inside.NOTHING);
    return Verdict.of(bench, outcome, ended, checked, origin, findings);
  }

  private Layout layout() {
    Format place = Format.unsigned(PIXEL_BITS, 0);
    return new Layout(
        List.of(ports.valid()),
        List.of(),
        List.of(),
        List.of(
            new Operand("x", place),
            new Operand("y", place),
            new Operand("colour", Format.unsigned(COLOUR_BITS, 0))),
        List.of(ports.x(), ports.y(), ports.colour()));
  }

  private boolean isInside(FrameRun.Strike strike) {
    return strike.x() < run.actual.width() && strike.y() < run.actual.height();
  }

  private void add(FrameRun.Strike strike, List<Mismatch> kept, List<Row> rows) {
    boolean colours = strike.fault() == FrameRun.Fault.WRONG;
    BigInteger low = big(isInside(strike) ? reference.least().at(strike.x(), strike.y()) : 0);
    BigInteger high = big(isInside(strike) ? reference.greatest().at(strike.x(), strike.y()) : 0);
    BigInteger x = big(strike.x());
    BigInteger y = big(strike.y());
    Mismatch mismatch =
        new Mismatch(
            kind(strike.fault()),
            0,
            strike.cycle(),
            isInside(strike) ? (long) strike.y() * run.actual.width() + strike.x() : -1,
            colours ? ports.colour() : ports.valid(),
            colours ? OptionalInt.of(COLOUR) : OptionalInt.empty(),
            colours ? big(strike.colour()) : BigInteger.ONE,
            colours ? low : BigInteger.ZERO,
            colours ? high : BigInteger.ZERO);
    kept.add(mismatch);
    if (!rows.isEmpty() && rows.get(rows.size() - 1).cycle() == strike.cycle()) {
      return; // a cycle has one row
    }
    rows.add(
        new Row(
            strike.cycle(),
            -1,
            mismatch.caseNumber(),
            List.of(BigInteger.ONE),
            List.of(),
            List.of(x, y, big(strike.colour())),
            colours ? List.of(x, y, low) : List.of(),
            colours ? List.of(x, y, high) : List.of(),
            colours ? List.of(false, false, true) : List.of(),
            mismatch.words()));
  }

  private static BigInteger big(long value) {
    return BigInteger.valueOf(value);
  }

  private static Mismatch.Kind kind(FrameRun.Fault fault) {
    return switch (fault) {
      case WRONG -> Mismatch.Kind.VALUE_WRONG;
      case TWICE -> Mismatch.Kind.RESULT_REPEATED;
      case LATE -> Mismatch.Kind.LATE;
      case OUTSIDE -> Mismatch.Kind.VALID_WITHOUT_CASE;
      case CHANGED -> Mismatch.Kind.CHANGED_WHILE_STALLED;
      case WITHDRAWN -> Mismatch.Kind.WITHDRAWN_WHILE_STALLED;
    };
  }

  private Mismatch missing(Mismatch.Kind kind, long pixel, String port) {
    return new Mismatch(
        kind,
        0,
        run.doneAt < 0 ? run.end : run.doneAt,
        pixel,
        port,
        OptionalInt.empty(),
        BigInteger.ZERO,
        BigInteger.ONE,
        BigInteger.ONE);
  }

  private List<Fact> facts() {
    List<Fact> facts = new ArrayList<>();
    int width = run.actual.width();
    facts.add(
        Fact.of(
            "frame",
            String.format(
                Locale.ROOT,
                "%d of %d pixels came, %d in any way wrong; %d cycles",
                run.arrived,
                run.came.length,
                run.faults,
                Math.max(0, run.end - run.begin))));
    run.strikes.stream().findFirst().map(this::first).ifPresent(facts::add);
    facts.addAll(told);
    if (run.missing() > 0) {
      int pixel = run.firstMissing();
      facts.add(
          Fact.of(
              "missing",
              run.missing()
                  + " pixels never came, in the order of rows first "
                  + pixel % width
                  + ", "
                  + pixel / width
                  + (run.hung ? "; no pixel came for too long" : "")));
    }
    run.neverHigh()
        .ifPresent(
            port ->
                facts.add(
                    Fact.of("missing", "every pixel came, and \"" + port + "\" was never high")));
    long[] waits = run.sortedWaits();
    if (waits.length > 0) {
      facts.add(
          Fact.of(
              "cycles",
              String.format(
                  Locale.ROOT,
                  "of a pixel since %s: least %d, median %d, most %d",
                  run.since(),
                  waits[0],
                  waits[waits.length / 2],
                  waits[waits.length - 1])));
    }
    reference
        .bounds()
        .ifPresent(
            bounds ->
                facts.add(
                    Fact.of(
                        "open",
                        bounds.openPixels()
                            + " of "
                            + run.came.length
                            + " pixels whose colour the precision leaves open")));
    if (ideal != null) {
      PictureDifference apart = ideal.difference(run.actual);
      facts.add(
          Fact.of(
              "ideal",
              String.format(
                  Locale.ROOT,
                  "%.2f dB from the mathematics; the largest difference is %d, at %d, %d",
                  apart.psnr(),
                  apart.largest(),
                  apart.x(),
                  apart.y())));
    }
    return facts;
  }

  private Fact first(FrameRun.Strike strike) {
    String allowed =
        !isInside(strike)
            ? "outside of the frame"
            : reference.isExact()
                ? "expected " + colour(reference.least().at(strike.x(), strike.y()))
                : "allowed "
                    + colour(reference.least().at(strike.x(), strike.y()))
                    + " to "
                    + colour(reference.greatest().at(strike.x(), strike.y()))
                    + " by channel";
    return Fact.of(
        "first",
        "pixel "
            + strike.x()
            + ", "
            + strike.y()
            + " in cycle "
            + strike.cycle()
            + ": "
            + kind(strike.fault())
            + ", "
            + colour(strike.colour())
            + ", "
            + allowed);
  }

  private static String colour(int code) {
    return String.format(Locale.ROOT, "%06X", code);
  }
}
