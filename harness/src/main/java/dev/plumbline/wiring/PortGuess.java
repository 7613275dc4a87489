package dev.plumbline.wiring;

import dev.plumbline.contract.ContractException;
import dev.plumbline.models.datapath.Operand;
import dev.plumbline.rtl.AsyncReset;
import dev.plumbline.rtl.Clock;
import dev.plumbline.rtl.Design;
import dev.plumbline.rtl.Port;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import java.util.stream.Collectors;

/**
 * Completes a wiring from the names of ports, where they leave no doubt; where they do, its message
 * gives the line to write.
 */
public final class PortGuess {
  private final String bench;
  private final Design design;
  private final Wiring wiring;
  private final Set<String> taken = new HashSet<>(); // texts, and ports meant as a whole
  private final Set<String> clocks;

  /** A port or a member of one that may carry an operand. */
  private record Candidate(String text, int width, Set<String> forms) {}

  private PortGuess(String bench, Design design, Wiring set) {
    this.bench = bench;
    this.design = design;
    this.wiring = new Wiring(set);
    this.clocks = design.clocks().stream().map(Clock::port).collect(Collectors.toSet());
    take(clocks);
    take(wiring.inputs.values());
    take(wiring.outputs.values());
    take(wiring.held.keySet());
    if (wiring.beats != null) {
      take(wiring.beats.marks().keySet());
    }
  }

  /**
   * Completes what was set.
   *
   * @throws ContractException where a name is missing or means several
   */
  public static Wiring complete(
      String bench, Design design, Wiring set, List<Operand> inputs, List<Operand> outputs) {
    PortGuess guess = new PortGuess(bench, design, set);
    guess.guessControls();
    guess.guess(inputs, guess.wiring.inputs, true);
    guess.guess(
        outputs.stream().filter(guess.wiring::isChecked).toList(), guess.wiring.outputs, false);
    guess.requireAnOutput(outputs);
    return guess.wiring;
  }

  /** How many operands have a port that is named like them, to choose between forms of a block. */
  public static int countNamed(Design design, List<Operand> operands, boolean input) {
    int count = 0;
    for (Operand operand : operands) {
      List<String> names = Vocabulary.namesOf(operand.name());
      if (candidates(design, input).stream()
          .anyMatch(candidate -> names.stream().anyMatch(candidate.forms()::contains))) {
        count++;
      }
    }
    return count;
  }

  private void take(Iterable<String> texts) {
    for (String text : texts) {
      taken.add(text);
      taken.add(Wiring.portOf(text));
    }
  }

  private void guessControls() {
    if (clocks.isEmpty()) {
      return;
    }
    if (wiring.reset == null) {
      guessReset();
    }
    take(wiring.reset == null ? List.of() : List.of(wiring.reset));
    if (wiring.inValid == null) {
      String in = control("valid of the cases", Vocabulary.IN_VALID, true);
      String out = control("valid of the results", Vocabulary.OUT_VALID, false);
      if (in != null && out == null) {
        throw new ContractException(
            bench
                + ": module "
                + design.top()
                + " has an input "
                + in
                + " for valid cases, but no output marks a result. Name it with"
                + " .valid(\""
                + in
                + "\", \"...\"), or hold the input with .hold(\""
                + in
                + "\", 1) where results come after a fixed latency.");
      }
      if (in != null) {
        wiring.inValid = in;
        wiring.outValid = out;
      }
    }
    if (wiring.inValid != null) {
      take(List.of(wiring.inValid, wiring.outValid));
      if (wiring.inReady == null) {
        wiring.inReady = control("ready for cases", Vocabulary.IN_READY, false);
      }
      if (wiring.outReady == null) {
        wiring.outReady = control("ready for results", Vocabulary.OUT_READY, true);
      }
      take(wiring.inReady == null ? List.of() : List.of(wiring.inReady));
      take(wiring.outReady == null ? List.of() : List.of(wiring.outReady));
    }
  }

  private void guessReset() {
    for (AsyncReset reset : design.asyncResets()) {
      wiring.reset = reset.port();
      wiring.resetLow = reset.activeLow();
      return;
    }
    String high = control("the reset", Vocabulary.RESET_HIGH, true);
    String low = control("the reset", Vocabulary.RESET_LOW, true);
    // "rst_n" never counts as "rst": n is no prefix or suffix that is dropped.
    if (high != null && low != null) {
      throw ambiguous(
          "the reset", List.of(".reset(\"" + high + "\")", ".resetLow(\"" + low + "\")"));
    }
    wiring.reset = high != null ? high : low;
    wiring.resetLow = low != null;
  }

  /** The one-bit port of one of some names; null where there is none. */
  private String control(String what, List<String> names, boolean input) {
    List<String> found =
        candidates(design, input).stream()
            .filter(candidate -> candidate.width() == 1 && !taken.contains(candidate.text()))
            .filter(candidate -> names.stream().anyMatch(candidate.forms()::contains))
            .map(Candidate::text)
            .toList();
    if (found.size() > 1) {
      throw ambiguous(
          what,
          List.of(
              ".valid(IN, OUT), .ready(IN, OUT), .reset(PORT) or .hold(PORT, CODE) with "
                  + String.join(", ", found)));
    }
    return found.isEmpty() ? null : found.get(0);
  }

  private void guess(List<Operand> operands, Map<String, String> to, boolean input) {
    List<Operand> missing = new ArrayList<>();
    for (Operand operand : operands) {
      if (!to.containsKey(operand.name())) {
        List<Candidate> found = named(operand, input);
        if (found.size() > 1) {
          throw ambiguous(subject(operand), lines(operand, found));
        }
        if (found.isEmpty()) {
          missing.add(operand);
        } else {
          claim(operand, found.get(0), to);
        }
      }
    }
    List<Candidate> left = left(input);
    if (missing.size() == 1 && fitting(missing.get(0), left).size() == 1) {
      Operand last = missing.get(0);
      if (input || (last.format().width() > 1 && to.isEmpty())) {
        claim(last, fitting(last, left).get(0), to); // nothing else is left for it
        missing.clear();
      }
    }
    for (Operand operand : missing) {
      if (input) {
        throw missing(operand, left, true);
      }
      wiring.unchecked.add(operand.name());
    }
  }

  private void claim(Operand operand, Candidate candidate, Map<String, String> to) {
    for (Map.Entry<String, String> other : to.entrySet()) {
      if (other.getValue().equals(candidate.text())) {
        throw new ContractException(
            bench
                + " takes port "
                + candidate.text()
                + " of module "
                + design.top()
                + " for both operands \""
                + other.getKey()
                + "\" and \""
                + operand.name()
                + "\". Set the port that carries each: .port(\""
                + operand.name()
                + "\", \"...\").");
      }
    }
    to.put(operand.name(), candidate.text());
    take(List.of(candidate.text()));
  }

  /** Ports that are called as an operand may be: by its own name before any other. */
  private List<Candidate> named(Operand operand, boolean input) {
    List<String> names = Vocabulary.namesOf(operand.name());
    for (List<String> some : List.of(names.subList(0, 1), names)) {
      List<Candidate> found =
          candidates(design, input).stream()
              .filter(candidate -> !isTakenByAWord(candidate))
              .filter(candidate -> some.stream().anyMatch(candidate.forms()::contains))
              .toList();
      List<Candidate> fit = fitting(operand, found);
      if (fit.size() == 1 || found.size() == 1) {
        return fit.size() == 1 ? fit : found;
      }
      if (!found.isEmpty()) {
        return found;
      }
    }
    return List.of();
  }

  private boolean isTakenByAWord(Candidate candidate) {
    return clocks.contains(candidate.text())
        || wiring.held.containsKey(candidate.text())
        || (wiring.beats != null && wiring.beats.marks().containsKey(candidate.text()))
        || candidate.text().equals(wiring.inValid)
        || candidate.text().equals(wiring.outValid)
        || candidate.text().equals(wiring.inReady)
        || candidate.text().equals(wiring.outReady)
        || candidate.text().equals(wiring.reset);
  }

  private static List<Candidate> fitting(Operand operand, List<Candidate> candidates) {
    return candidates.stream().filter(c -> c.width() == operand.format().width()).toList();
  }

  private List<Candidate> left(boolean input) {
    return candidates(design, input).stream()
        .filter(candidate -> !taken.contains(candidate.text()))
        .toList();
  }

  private static List<Candidate> candidates(Design design, boolean input) {
    Port.Direction wanted = input ? Port.Direction.INPUT : Port.Direction.OUTPUT;
    List<Candidate> found = new ArrayList<>();
    for (Port port : design.ports()) {
      if (port.direction() != wanted || !port.unpacked().isEmpty()) {
        continue;
      }
      if (port.fields().isEmpty()) {
        found.add(candidate(port.name(), port.width(), port.name(), input));
      }
      for (Port.Field field : port.fields()) {
        String text = port.name() + "." + field.name();
        Candidate whole = candidate(text, field.high() - field.low() + 1, text, input);
        Set<String> forms = new HashSet<>(whole.forms());
        forms.addAll(Vocabulary.formsOf(field.name(), input));
        found.add(new Candidate(text, whole.width(), forms));
      }
    }
    return found;
  }

  private static Candidate candidate(String text, int width, String name, boolean input) {
    return new Candidate(text, width, Vocabulary.formsOf(name, input));
  }

  private void requireAnOutput(List<Operand> outputs) {
    if (wiring.outputs.isEmpty()) {
      throw missing(outputs.get(0), left(false), false);
    }
  }

  private String subject(Operand operand) {
    return String.format(
        Locale.ROOT,
        "operand \"%s\" (%s, %d bits)",
        operand.name(),
        operand.format(),
        operand.format().width());
  }

  private static List<String> lines(Operand operand, List<Candidate> candidates) {
    return candidates.stream()
        .map(c -> ".port(\"" + operand.name() + "\", \"" + c.text() + "\")")
        .toList();
  }

  private ContractException ambiguous(String what, List<String> lines) {
    return new ContractException(
        bench
            + " cannot determine which port of module "
            + design.top()
            + where()
            + " carries "
            + what
            + ": several may. Write one of:\n  "
            + String.join("\n  ", lines));
  }

  private ContractException missing(Operand operand, List<Candidate> left, boolean input) {
    List<Candidate> fit = fitting(operand, left);
    List<Candidate> offered = fit.isEmpty() ? left : fit;
    String others =
        left.stream().map(c -> c.text() + " (" + c.width() + ")").collect(Collectors.joining(", "));
    return new ContractException(
        bench
            + " finds no port of module "
            + design.top()
            + where()
            + " that is called as "
            + subject(operand)
            + " may be. Ports left, with their bits: "
            + (others.isEmpty() ? "none" : others)
            + (offered.isEmpty()
                ? ". Give the bench of the block that this is, or the format of the port."
                : ". Write:\n  "
                    + String.join("\n  or ", lines(operand, offered))
                    + (input ? beats(operand) : "")));
  }

  /** How to say that an operand shares a port with others, in beats of its own. */
  private String beats(Operand operand) {
    List<String> buses =
        clocks.isEmpty() || wiring.beats != null
            ? List.of()
            : candidates(design, true).stream()
                .filter(c -> c.width() > 1 && !isTakenByAWord(c))
                .map(Candidate::text)
                .toList();
    return buses.isEmpty()
        ? ""
        : "\n"
            + "  or, where it comes in a beat of its own on a port that has others in turn,\n"
            + "  .beats(Beats.on(\""
            + buses.get(0)
            + "\", ..., \""
            + operand.name()
            + "\", ...))";
  }

  private String where() {
    return design.ports().isEmpty() ? "" : " (" + design.ports().get(0).location().file() + ")";
  }
}
