package dev.plumbline.lockstep;

import dev.plumbline.lockstep.LockstepChecker.Divergence;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.program.Operation;
import dev.plumbline.models.span.Distances;
import dev.plumbline.models.traversal.Rays;
import dev.plumbline.models.traversal.Retirement;
import dev.plumbline.models.traversal.Traversal;
import dev.plumbline.verdict.CodeText;
import java.math.BigInteger;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.TreeMap;

/**
 * What a divergence means: the operation, the program with an arrow at it, both lists, all values.
 */
final class FindingText {
  /** Lines of a long program before and after the arrow. */
  private static final int AROUND = 16;

  private final Executor executor;
  private final Block block;
  private final Expectation expected;
  private final LockstepChecker checker;
  private final List<Output> shown;
  private final Divergence divergence;
  private final StringBuilder text = new StringBuilder();

  FindingText(
      Executor executor,
      Block block,
      Expectation expected,
      LockstepChecker checker,
      List<Output> shown) {
    this.executor = executor;
    this.block = block;
    this.expected = expected;
    this.checker = checker;
    this.shown = shown;
    this.divergence = checker.divergence();
  }

  String text() {
    int address = -1;
    List<SpanDrawing.End> list = List.of();
    if (divergence.ray() >= 0) {
      int steps =
          (divergence.ofResult() ? expected.past(divergence.ray()) - 1 : divergence.record())
              - expected.first(divergence.ray());
      Map<Integer, List<SpanDrawing.End>> lists = new TreeMap<>();
      address = addressAfter(steps, lists);
      list = lists.get(steps);
      operation(address, steps);
    } else {
      line("operation", "none: no ray is in hand");
    }
    program(address);
    if (divergence.ray() >= 0) {
      ray();
      if (!divergence.ofResult() && divergence.row() >= 0) {
        lists(list);
      }
      values();
    }
    return text.toString();
  }

  /** Runs the model again up to a step of the ray; gives the address of that operation. */
  private int addressAfter(int steps, Map<Integer, List<SpanDrawing.End>> lists) {
    List<Integer> addresses = new ArrayList<>();
    Traversal.exact(executor.units(), executor.spans())
        .run(
            block.program,
            block.rays,
            divergence.ray(),
            1,
            null,
            (Retirement retirement) -> {
              if (addresses.size() == steps) {
                lists.put(steps, SpanDrawing.ends(retirement.top()));
              }
              addresses.add(retirement.address());
            });
    return addresses.get(steps);
  }

  private void operation(int address, int steps) {
    Operation operation = block.program.at(address);
    line(
        "operation",
        String.format(
            Locale.ROOT,
            "%d %s, number %d of ray %d",
            address,
            operation.kind(),
            steps + 1,
            block.firstCase + divergence.ray()));
    if (executor.timing() != null) {
      long accepted = checker.acceptedAt(divergence.ray());
      long due =
          divergence.ofResult()
              ? expected.cycles(divergence.ray())
              : expected.cycle(divergence.record());
      line(
          "due",
          String.format(
              Locale.ROOT,
              "%d cycles after the ray's acceptance, which was in cycle %d: in cycle %d",
              due,
              block.firstRow + accepted,
              block.firstRow + accepted + due));
    }
  }

  private void program(int address) {
    String[] lines = block.program.disassembly(address).split("\n", -1);
    line("program", block.program.length() + " operations");
    for (int i = 0; i < block.program.length(); i++) {
      boolean near = address < 0 ? i < 2 * AROUND : Math.abs(i - address) <= AROUND;
      if (near) {
        more(lines[i]);
      } else if (i == 0 || i == block.program.length() - 1) {
        more("   ...");
      }
    }
  }

  private void ray() {
    StringBuilder ray = new StringBuilder();
    for (String name : List.of("origin", "direction")) {
      ray.append(ray.isEmpty() ? "" : ", ").append(name);
      for (String axis : List.of("_x", "_y", "_z")) {
        ray.append(' ').append(real(name + axis));
      }
    }
    ray.append(", start ").append(real("start"));
    if (block.rays.column("any_hit")[divergence.ray()] == 1) {
      ray.append(", any hit before ").append(real("limit"));
    }
    line("ray", ray.toString());
  }

  private String real(String column) {
    Rays rays = block.rays;
    Format format = Ports.rayFormat(column, rays.formats());
    return CodeText.real(format, BigInteger.valueOf(rays.column(column)[divergence.ray()]));
  }

  private void lists(List<SpanDrawing.End> list) {
    Map<String, Output> by = new TreeMap<>();
    shown.forEach(output -> by.put(output.promise.role(), output));
    Output distance = by.get("retire_distance");
    Output count = by.get("retire_count");
    if (distance == null || count == null) {
      return;
    }
    Output material = by.get("retire_material");
    Output reversed = by.get("retire_reversed");
    List<SpanDrawing.End> actual = new ArrayList<>();
    int ends = 2 * count.code(count.sampled(), divergence.row(), 0).intValue();
    for (int end = 0; end < Math.min(ends, distance.promise.elements()); end++) {
      actual.add(
          new SpanDrawing.End(
              sampled(distance, end),
              material == null ? 0 : (int) sampled(material, end),
              reversed != null && sampled(reversed, end) == 1));
    }
    line("spans", "on top of the stack after it");
    SpanDrawing.of(Distances.codes(executor.formats().word()), list, actual)
        .forEach(drawn -> more("   " + drawn));
  }

  private long sampled(Output output, int element) {
    return output.code(output.sampled(), divergence.row(), element).longValue();
  }

  /** Every value that differs, and how many do not. */
  private void values() {
    int same = 0;
    line("values", String.format(Locale.ROOT, "%-24s %-30s %s", "", "expected", "actual"));
    for (Output output : shown) {
      for (int element = 0; element < output.promise.elements(); element++) {
        BigInteger wanted = output.code(output.expected(), divergence.record(), element);
        BigInteger actual = output.code(output.sampled(), divergence.row(), element);
        if (wanted.equals(actual)) {
          same++;
        } else {
          more(
              String.format(
                  Locale.ROOT,
                  "   %-24s %-30s %s",
                  output.name(element),
                  code(output, wanted),
                  code(output, actual)));
        }
      }
    }
    more("   " + same + " others agree");
  }

  private static String code(Output output, BigInteger code) {
    Format format = output.promise.format();
    return format.fractionBits() == 0
        ? code.toString()
        : CodeText.hex(format, code) + "  " + CodeText.real(format, code);
  }

  private void line(String label, String fact) {
    text.append(text.isEmpty() ? "" : "\n")
        .append(String.format(Locale.ROOT, "  %-11s%s", label, fact));
  }

  private void more(String fact) {
    text.append("\n  ").append(fact.stripTrailing());
  }
}
