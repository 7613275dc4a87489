package dev.plumbline.rtl;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.regex.Pattern;

/** Verilator's arguments that would break from inside what is built around it. */
final class RefusedArguments {
  private static final String OURS =
      "Plumbline itself chooses what Verilator writes, and where; leave it out";

  /** What to do instead, by a pattern of the argument's name without its dashes. */
  private static final Map<Pattern, String> INSTEAD = new LinkedHashMap<>();

  static {
    put("top|top-module", "name the top by withTop, --top or top = of @DesignUnderTest");
    put(
        "threads.*",
        "a model runs on one thread, and a bench runs as many models as there are cores");
    put("timing|main.*", "delays have no meaning where rows are cycles; drive the clock as a port");
    put(
        "trace.*",
        "a test that fails leaves waveform.vcd of its window by itself; property"
            + " plumbline.waveform=FIRST-LAST, or waveform of @DesignUnderTest, asks for one of any"
            + " test");
    put("coverage.*", "a bench counts coverage points of its own");
    put("(no-)?assert", "choose by BuildOptions.withAssertions, or --assert of shake");
    put(
        "x-assign|x-initial.*",
        "choose by BuildOptions.withUnknowns and DutOptions.withInitialState");
    put("pins-.*|no-pins.*", "ports are read and driven by their Verilog widths");
    put(
        "sc|cc|exe|build|binary|lint-only|dpi-hdr-only|xml-.*|json-.*|E|preproc.*|Mdir|prefix"
            + "|mod-prefix|o|make|lib-create|protect-.*|hierarchical|savable|gdb.*|rr|getenv|get-supported"
            + "|version|V|help|h|CFLAGS|LDFLAGS|MAKEFLAGS|compiler|build-.*|verilate-jobs|j",
        OURS);
  }

  private RefusedArguments() {}

  private static void put(String names, String instead) {
    INSTEAD.put(Pattern.compile(names), instead);
  }

  /** What to say of an argument; empty when it may be passed. */
  static Optional<String> refusal(String argument) {
    if (!argument.startsWith("-")) {
      return Optional.empty();
    }
    String name = argument.replaceFirst("^--?", "").replaceFirst("[=\\s](?s:.*)$", "");
    return INSTEAD.entrySet().stream()
        .filter(entry -> entry.getKey().matcher(name).matches())
        .map(
            entry ->
                "argument \"" + argument + "\" cannot be passed to Verilator: " + entry.getValue())
        .findFirst();
  }

  /** Refuses the first of the arguments that may not be passed. */
  static void check(List<String> arguments) {
    for (String argument : arguments) {
      refusal(argument)
          .ifPresent(
              why -> {
                throw new RtlException(why, List.of());
              });
    }
  }
}
