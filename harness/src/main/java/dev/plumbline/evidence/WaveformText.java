package dev.plumbline.evidence;

import dev.plumbline.text.PlainText;
import dev.plumbline.verdict.Wave;
import dev.plumbline.verdict.Waveform;
import java.math.BigInteger;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;

/**
 * {@code waveform.vcd}: a value change dump (IEEE 1364-2005, clause 18; IEEE 1800-2017, clause
 * 21.7), whose times are cycles. What is not known is x; cycles that are left out lie between
 * {@code $dumpoff} and {@code $dumpon}.
 */
final class WaveformText {
  private static final int FIRST_CODE = '!';
  private static final int CODES = '~' - FIRST_CODE + 1;

  private final Waveform waveform;
  private final StringBuilder text = new StringBuilder();

  private WaveformText(Waveform waveform) {
    this.waveform = waveform;
  }

  static String of(Waveform waveform) {
    return new WaveformText(waveform).write();
  }

  private String write() {
    text.append("$version Plumbline $end\n$comment\n");
    waveform.about().forEach(line -> text.append("  ").append(comment(line)).append('\n'));
    text.append(
        "  One unit of time is one cycle; values are those at which outputs are sampled.\n");
    text.append("$end\n$timescale 1 ns $end\n");
    declare();
    text.append("$enddefinitions $end\n");
    List<Long> cycles = waveform.cycles();
    for (int at = 0; at < cycles.size(); at++) {
      boolean begins = at == 0 || cycles.get(at) != cycles.get(at - 1) + 1;
      if (begins && at > 0) {
        off(cycles.get(at - 1) + 1);
      }
      text.append('#').append(cycles.get(at)).append('\n');
      if (begins) {
        text.append(at == 0 ? "$dumpvars\n" : "$dumpon\n");
      }
      for (int i = 0; i < waveform.waves().size(); i++) {
        Wave wave = waveform.waves().get(i);
        BigInteger value = wave.values().get(at);
        if (begins || !java.util.Objects.equals(value, wave.values().get(at - 1))) {
          change(wave, i, value);
        }
      }
      if (begins) {
        text.append("$end\n");
      }
    }
    if (!cycles.isEmpty()) {
      text.append('#').append(cycles.get(cycles.size() - 1) + 1).append('\n');
    }
    return text.toString();
  }

  private void off(long cycle) {
    text.append('#').append(cycle).append("\n$dumpoff\n");
    for (int i = 0; i < waveform.waves().size(); i++) {
      change(waveform.waves().get(i), i, null);
    }
    text.append("$end\n");
  }

  private void change(Wave wave, int number, BigInteger value) {
    String bits = value == null ? "x" : value.toString(2);
    if (wave.width() == 1) {
      text.append(bits);
    } else {
      text.append('b').append(bits).append(' ');
    }
    text.append(code(number)).append('\n');
  }

  /** A scope with what is in it: scopes by name, signals in their order. */
  private static final class Scope {
    final Map<String, Scope> inner = new TreeMap<>();
    final StringBuilder signals = new StringBuilder();
  }

  private void declare() {
    Scope root = new Scope();
    for (int i = 0; i < waveform.waves().size(); i++) {
      Wave wave = waveform.waves().get(i);
      Scope scope = root;
      for (String name : wave.scope().split("\\.", -1)) {
        scope = scope.inner.computeIfAbsent(word(name), key -> new Scope());
      }
      scope.signals.append("$var wire ").append(wave.width()).append(' ').append(code(i));
      scope.signals.append(' ').append(word(wave.name()));
      if (wave.width() > 1) {
        scope.signals.append(" [").append(wave.width() - 1).append(":0]");
      }
      scope.signals.append(" $end\n");
    }
    declare(root);
  }

  private void declare(Scope scope) {
    text.append(scope.signals);
    scope.inner.forEach(
        (name, inner) -> {
          text.append("$scope module ").append(name).append(" $end\n");
          declare(inner);
          text.append("$upscope $end\n");
        });
  }

  /** Names are words without blanks. */
  private static String word(String name) {
    String plain = PlainText.lines(name).replaceAll("\\s", "_");
    return plain.isEmpty() ? "_" : plain;
  }

  /** A comment ends where its end is written. */
  private static String comment(String line) {
    return PlainText.lines(line).replace("$", "");
  }

  /** A short code of printable characters, another for each number. */
  static String code(int number) {
    StringBuilder code = new StringBuilder();
    int rest = number;
    do {
      code.append((char) (FIRST_CODE + rest % CODES));
      rest = rest / CODES - 1;
    } while (rest >= 0);
    return code.toString();
  }
}
