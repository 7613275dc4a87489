package dev.plumbline.junit;

import dev.plumbline.PlumblineException;
import dev.plumbline.cosim.CompiledDesign;
import dev.plumbline.cosim.Dut;
import dev.plumbline.cosim.DutException;
import dev.plumbline.cosim.Oscillation;
import dev.plumbline.cosim.Trace;
import dev.plumbline.cosim.Watch;
import dev.plumbline.verdict.KeptCase;
import dev.plumbline.verdict.Waveform;
import dev.plumbline.verdict.WaveformRequest;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Function;

/** The DUTs of one test. */
final class OpenDuts implements AutoCloseable {
  private final List<Dut> duts = new ArrayList<>();
  private final Map<Dut, Function<String, Optional<KeptCase>>> cases = new LinkedHashMap<>();
  private String test = "";

  synchronized void add(Dut dut, CompiledDesign model, long seed) {
    duts.add(dut);
    cases.put(dut, shows -> HandCase.of(dut, model, test, shows, seed));
  }

  /** What each was given from its opening, by the file that it goes into. */
  synchronized Map<String, KeptCase> cases(String ofTest, String shows) {
    test = ofTest;
    Map<String, KeptCase> kept = new LinkedHashMap<>();
    for (Dut dut : duts) {
      if (!dut.trace().rows().isEmpty()) {
        String file = "case-" + (kept.size() + 1) + ".csv";
        cases.get(dut).apply(shows).ifPresent(one -> kept.put(file, one));
      }
    }
    return kept;
  }

  /** Of those that were driven by hand. */
  synchronized List<Trace> traces() {
    return duts.stream().map(Dut::trace).filter(trace -> !trace.rows().isEmpty()).toList();
  }

  /** The cycles of those traces with the signals inside; says what could not be looked into. */
  synchronized List<Waveform> lastWaveforms(List<String> troubles) {
    List<Waveform> waveforms = new ArrayList<>();
    for (Dut dut : duts) {
      List<Trace.Row> rows = dut.trace().rows();
      if (!rows.isEmpty()) {
        long last = rows.get(rows.size() - 1).cycle();
        add(waveforms, dut, new WaveformRequest(Math.max(0, last - 63), last, List.of()), troubles);
      }
    }
    return waveforms;
  }

  synchronized List<Waveform> waveforms(WaveformRequest request, List<String> troubles) {
    List<Waveform> waveforms = new ArrayList<>();
    duts.stream()
        .filter(dut -> !dut.trace().rows().isEmpty())
        .forEach(dut -> add(waveforms, dut, request, troubles));
    return waveforms;
  }

  private static void add(
      List<Waveform> to, Dut dut, WaveformRequest request, List<String> troubles) {
    try {
      Watch watch = dut.lookBack(request.first(), (int) (request.last() - request.first() + 1));
      to.add(HandWaveform.of(watch, "a DUT that was driven by hand", request::takes));
    } catch (PlumblineException e) {
      troubles.add("No waveform: " + e.getMessage());
    }
  }

  /** What of them changes for ever, where one ended since its logic did not settle. */
  synchronized Optional<String> oscillation(Throwable thrown) {
    return thrown instanceof DutException end
        ? Oscillation.words(
            end, () -> duts.stream().flatMap(dut -> Oscillation.of(dut).stream()).toList())
        : Optional.empty();
  }

  synchronized String text() {
    StringBuilder text = new StringBuilder();
    duts.forEach(dut -> text.append(dut.text()));
    return text.toString();
  }

  @Override
  public synchronized void close() {
    duts.forEach(Dut::close);
  }
}
