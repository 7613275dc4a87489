package dev.plumbline.lockstep;

import dev.plumbline.lockstep.LockstepChecker.Divergence;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.program.Operation;
import dev.plumbline.models.span.Distances;
import dev.plumbline.models.traversal.Rays;
import dev.plumbline.models.traversal.Retirement;
import dev.plumbline.models.traversal.SurfaceNumber;
import dev.plumbline.verdict.CodeText;
import dev.plumbline.verdict.Fact;
import dev.plumbline.verdict.Row;
import java.math.BigInteger;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;

/**
 * What a divergence means: the operation, the program with an arrow at it, both lists, all values.
 */
final class DivergenceFacts {
  /** Lines of a long program before and after the arrow. */
  private static final int AROUND = 16;

  private final Executor executor;
  private final Block block;
  private final Expectation expected;
  private final LockstepChecker checker;
  private final Row row;
  private final List<Output> observed;
  private final Divergence divergence;
  private final List<Fact> facts = new ArrayList<>();
  private List<SpanDrawing.End> list = List.of(); // on top of the stack after the operation

  /** Of a row and the outputs that it shows. */
  DivergenceFacts(Executor executor, LockstepRunner.Call call, Row row, List<Output> observed) {
    this.executor = executor;
    this.block = call.block();
    this.expected = call.expected();
    this.checker = call.checker();
    this.row = row;
    this.observed = observed;
    this.divergence = checker.divergence();
  }

  List<Fact> facts() {
    if (divergence.ray() < 0) {
      add("operation", "none: no ray is in hand");
      program(-1);
      return facts;
    }
    int record = divergence.ofResult() ? expected.past(divergence.ray()) - 1 : divergence.record();
    int steps = record - expected.first(divergence.ray());
    int address = addressAfter(steps);
    operation(address, steps);
    program(address);
    ray();
    if (!divergence.ofResult()) {
      lists();
    }
    values();
    return facts;
  }

  /** Runs the model again up to a step of the ray; gives the address of that operation. */
  private int addressAfter(int steps) {
    List<Integer> addresses = new ArrayList<>();
    executor
        .traversal()
        .run(
            block.program,
            block.rays,
            divergence.ray(),
            1,
            null,
            (Retirement retirement) -> {
              if (addresses.size() == steps) {
                list = SpanDrawing.ends(retirement.top(), surface -> text(surface));
              }
              addresses.add(retirement.address());
            });
    return addresses.get(steps);
  }

  private void operation(int address, int steps) {
    Operation operation = block.program.at(address);
    add(
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
      add(
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
    String[] operations = block.program.disassembly(address).split("\n", -1);
    List<String> lines = new ArrayList<>();
    lines.add(block.program.length() + " operations");
    for (int i = 0; i < block.program.length(); i++) {
      boolean near = address < 0 ? i < 2 * AROUND : Math.abs(i - address) <= AROUND;
      if (near) {
        lines.add(operations[i]);
      } else if (i == 0 || i == block.program.length() - 1) {
        lines.add("   ...");
      }
    }
    facts.add(new Fact("program", lines));
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
    } else if (isLimited()) {
      ray.append(", nearest before ").append(real("limit"));
    }
    add("ray", ray.toString());
  }

  private boolean isLimited() {
    long most = executor.formats().word().maxCode().longValueExact();
    return executor.rules().limitsEveryRay()
        && block.rays.column("limit")[divergence.ray()] != most;
  }

  private String real(String column) {
    Rays rays = block.rays;
    Format format = Ports.rayFormat(column, rays.formats());
    return CodeText.real(format, BigInteger.valueOf(rays.column(column)[divergence.ray()]));
  }

  private void lists() {
    int distance = at("retire_distance");
    int count = at("retire_count");
    if (distance < 0 || count < 0) {
      return;
    }
    int surface = at("retire_surface");
    int material = at("retire_material");
    int reversed = at("retire_reversed");
    List<SpanDrawing.End> actual = new ArrayList<>();
    int ends = 2 * Math.min(executor.spans(), row.outputs().get(count).intValue());
    for (int end = 0; end < ends; end++) {
      actual.add(
          new SpanDrawing.End(
              row.outputs().get(distance + end).longValue(),
              surface >= 0
                  ? text(ExecutorTerms.surfaceOf(executor, code(surface + end)))
                  : material >= 0 ? "m" + code(material + end) : "",
              reversed >= 0 && row.outputs().get(reversed + end).signum() != 0));
    }
    List<String> lines = new ArrayList<>();
    lines.add("on top of the stack after it");
    lines.addAll(SpanDrawing.of(Distances.codes(executor.formats().word()), list, actual));
    facts.add(new Fact("spans", lines));
  }

  /** A surface as the executor shows it: by its solid's address and face, or its material. */
  private String text(int surface) {
    if (at("retire_surface") < 0) {
      return at("retire_material") < 0 ? "" : "m" + SurfaceNumber.material(surface, block.program);
    }
    String face = SurfaceNumber.faceText(surface, block.program);
    return "at " + SurfaceNumber.address(surface) + (face.isEmpty() ? "" : " " + face);
  }

  private long code(int output) {
    return row.outputs().get(output).longValue();
  }

  /** Where among the row's outputs the first element of a port stands; -1 where it does not. */
  private int at(String role) {
    int at = 0;
    for (Output output : observed) {
      if (output.promise.role().equals(role)) {
        return at;
      }
      at += output.promise.elements();
    }
    return -1;
  }

  /** Every value that differs, and how many do not. */
  private void values() {
    if (!row.isDue()) {
      return;
    }
    List<String> lines = new ArrayList<>();
    lines.add(columns("", "expected", "actual"));
    int same = 0;
    int at = 0;
    for (Output output : observed) {
      for (int element = 0; element < output.promise.elements(); element++) {
        BigInteger wanted = row.low().get(at);
        BigInteger actual = row.outputs().get(at++);
        if (wanted.equals(actual)) {
          same++;
        } else {
          lines.add(columns(output.name(element), code(output, wanted), code(output, actual)));
        }
      }
    }
    lines.add(same + " others agree");
    facts.add(new Fact("values", lines));
  }

  private static String columns(String name, String wanted, String actual) {
    return String.format(Locale.ROOT, "%-24s %-30s %s", name, wanted, actual);
  }

  private static String code(Output output, BigInteger code) {
    Format format = output.promise.format();
    return format.fractionBits() == 0
        ? code.toString()
        : CodeText.hex(format, code) + "  " + CodeText.real(format, code);
  }

  private void add(String label, String fact) {
    facts.add(Fact.of(label, fact));
  }
}
