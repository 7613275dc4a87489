package dev.plumbline.lockstep;

import dev.plumbline.cosim.Watch;
import dev.plumbline.models.datapath.Operand;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.program.Operation;
import dev.plumbline.models.program.OperationKind;
import dev.plumbline.models.program.Program;
import dev.plumbline.models.span.Distances;
import dev.plumbline.models.span.SpanList;
import dev.plumbline.models.traversal.Retirement;
import dev.plumbline.models.traversal.SurfaceNumber;
import dev.plumbline.rtl.Signal;
import dev.plumbline.verdict.Stage;
import dev.plumbline.verdict.Stage.Relation;
import java.math.BigInteger;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.IntToLongFunction;

/**
 * What goes into an operation as it retires, and comes out of it, beside the signals inside that
 * have it whenever operations retire rightly; and which of that is wrong where one does not.
 */
final class RetirementStages implements LockstepRunner.Watcher {
  /** The widest code that has a format; the distances of longer lists are not held to signals. */
  private static final int MOST_BITS = 128;

  /** Cycles before its retirement in which what belongs to an operation is looked for. */
  private static final int BEFORE = 3;

  /** Retirements that have to agree, and different values among them. */
  private static final int FEW = 8;

  private static final int DIFFERENT = 3;

  /** An operation that retired, by the row, and what the model says of it. */
  private record Seen(long row, Map<String, BigInteger> values) {}

  private final Executor executor;
  private final long first;
  private final long wrong; // row
  private final List<Seen> seen = new ArrayList<>();
  private final List<Map<String, BigInteger>> block = new ArrayList<>(); // by record
  private final Map<String, Format> formats = new LinkedHashMap<>();
  private Program program; // of the block
  private int record;
  private long last = -1;

  RetirementStages(Executor executor, long first, long wrong) {
    this.executor = executor;
    this.first = first;
    this.wrong = wrong;
  }

  @Override
  public void begins(Block laidOut) {
    block.clear();
    record = 0;
    program = laidOut.program;
    SpanList[] stack = new SpanList[executor.limits().depth() + 1];
    executor
        .traversal()
        .run(
            laidOut.program,
            laidOut.rays,
            0,
            laidOut.count,
            null,
            retirement -> block.add(values(retirement, stack)));
  }

  /** In the order of the flow: what was fetched, what went in, what came out. */
  private Map<String, BigInteger> values(Retirement retired, SpanList[] stack) {
    Map<String, BigInteger> values = new LinkedHashMap<>();
    Operation operation = retired.operation();
    OperationKind kind = operation.kind();
    Format count = Format.unsigned(32, 0);
    put(values, "address", count, BigInteger.valueOf(retired.address()));
    put(values, "operation", count, BigInteger.valueOf(executor.layout().opcode(kind)));
    if (kind.isSolid()) {
      put(values, "material", count, BigInteger.valueOf(operation.material()));
    }
    if (kind == OperationKind.SKIP) {
      put(values, "target", count, BigInteger.valueOf(operation.target()));
      put(values, "taken", Format.bit(), bit(retired.isSkipTaken()));
    }
    Format word = executor.formats().word();
    if (kind.isSolid() && retired.top().count() > 0) {
      put(values, "entry", word, BigInteger.valueOf(retired.top().distance(0)));
      put(values, "exit", word, BigInteger.valueOf(retired.top().distance(1)));
    }
    if (kind.isCombination()) {
      list(values, "left", stack[retired.height()]);
      list(values, "right", stack[retired.height() + 1]);
    } else if (kind == OperationKind.CLOSE) {
      list(values, "closed", stack[1]);
    }
    if (retired.height() > 0) {
      list(values, "top", retired.top());
      stack[retired.height()] = copy(retired.top());
    }
    boolean found = retired.isFound();
    put(values, "best.hit", Format.bit(), bit(found));
    put(values, "best.distance", word, BigInteger.valueOf(found ? retired.distance() : 0));
    long met = found ? ExecutorTerms.surface(executor, retired.surface()) : 0;
    put(values, "best.surface", ExecutorTerms.surface(executor), BigInteger.valueOf(met));
    put(values, "best.material", count, BigInteger.valueOf(found ? retired.material() : 0));
    put(values, "best.reversed", Format.bit(), bit(found && retired.isReversed()));
    put(values, "best.inward", Format.bit(), bit(found && retired.isInward()));
    put(values, "overflow", Format.bit(), bit(retired.hasOverflowed()));
    return values;
  }

  private static BigInteger bit(boolean set) {
    return set ? BigInteger.ONE : BigInteger.ZERO;
  }

  private SpanList copy(SpanList list) {
    return SpanList.of(Distances.codes(executor.formats().word()), executor.spans()).copy(list);
  }

  private void put(Map<String, BigInteger> values, String name, Format format, BigInteger value) {
    values.put(name, value);
    formats.put(name, format);
  }

  /** Its ends side by side, as at the retirement port. */
  private void list(Map<String, BigInteger> values, String name, SpanList list) {
    put(values, name + ".count", Format.unsigned(8, 0), BigInteger.valueOf(list.count()));
    packed(values, name + ".distance", executor.formats().word().width(), list, list::distance);
    int material = ExecutorTerms.material(executor).width();
    int surface = ExecutorTerms.surface(executor).width();
    packed(
        values,
        name + ".surface",
        surface,
        list,
        end -> ExecutorTerms.surface(executor, list.surface(end)));
    packed(
        values,
        name + ".material",
        material,
        list,
        end -> SurfaceNumber.material(list.surface(end), program));
    packed(values, name + ".reversed", 1, list, end -> list.isReversed(end) ? 1 : 0);
  }

  private void packed(
      Map<String, BigInteger> values, String name, int bits, SpanList list, IntToLongFunction of) {
    int width = 2 * executor.spans() * bits;
    if (width > MOST_BITS) {
      return;
    }
    BigInteger packed = BigInteger.ZERO;
    for (int end = 2 * list.count() - 1; end >= 0; end--) {
      BigInteger code = BigInteger.valueOf(of.applyAsLong(end));
      packed = packed.shiftLeft(bits).or(code.mod(BigInteger.ONE.shiftLeft(bits)));
    }
    put(values, name, Format.unsigned(width, 0), packed);
  }

  @Override
  public void row(LockstepRunner.Call call, int row) {
    last = call.block().firstRow + call.from() + row;
    long[] valid = call.columns().retireValid;
    if (valid != null && valid[row] == 1 && last <= wrong && record < block.size()) {
      if (last >= first) {
        seen.add(new Seen(last, block.get(record)));
      }
      record++;
    }
  }

  @Override
  public boolean wantsMore() {
    return last <= wrong;
  }

  /**
   * The steps of the operation that is wrong beside their signals; none where it is another row.
   */
  List<Stage> stages(Watch watch) {
    Optional<Seen> at = seen.stream().filter(one -> one.row() == wrong).findFirst();
    if (at.isEmpty()) {
      return List.of();
    }
    List<Stage> stages = new ArrayList<>();
    at.get().values().forEach((name, expected) -> stages.add(stage(watch, name, expected)));
    return stages;
  }

  private Stage stage(Watch watch, String name, BigInteger expected) {
    Format format = formats.get(name);
    List<Seen> right =
        seen.stream()
            .filter(one -> one.row() < wrong && one.values().containsKey(name))
            .filter(one -> one.row() - BEFORE >= watch.firstCycle())
            .toList();
    long different = right.stream().map(one -> one.values().get(name)).distinct().count();
    int needed = right.stream().mapToInt(one -> bits(one.values().get(name))).max().orElse(0);
    if (right.size() >= FEW && different >= Math.min(DIFFERENT, format.width() == 1 ? 2 : 3)) {
      for (int before = 0; before <= BEFORE; before++) {
        for (int g : byDepth(watch)) {
          Signal signal = watch.signals().get(g);
          if (signal.width() >= needed && signal.width() <= format.width()) {
            long[][] columns = columns(watch, g);
            int cycles = before;
            boolean is =
                right.stream()
                    .allMatch(
                        one ->
                            same(
                                watch,
                                columns,
                                signal,
                                one.row() - cycles,
                                one.values().get(name)));
            if (is) {
              return found(watch, g, columns, before, new Operand(name, format), expected, right);
            }
          }
        }
      }
    }
    return new Stage(
        new Operand(name, format),
        "",
        "",
        -1,
        expected,
        null,
        Relation.NOT_FOUND,
        "no signal equals it");
  }

  /** Signals of the top module last: there ports repeat what is inside. */
  private static List<Integer> byDepth(Watch watch) {
    List<Integer> order = new ArrayList<>();
    for (int g = 0; g < watch.signals().size(); g++) {
      order.add(g);
    }
    order.sort(
        Comparator.comparing(
            g -> watch.names().get(g).chars().filter(c -> c == '.').count() == 1 ? 1 : 0));
    return order;
  }

  private static int bits(BigInteger value) {
    return value.signum() < 0 ? value.bitLength() + 1 : value.bitLength();
  }

  private static long[][] columns(Watch watch, int g) {
    long[][] columns = new long[watch.signals().get(g).words()][];
    for (int w = 0; w < columns.length; w++) {
      columns[w] = watch.column(g, w);
    }
    return columns;
  }

  private static BigInteger value(Watch watch, long[][] columns, Signal signal, long row) {
    int at = (int) (row - watch.firstCycle());
    if (at < 0 || at >= watch.rows()) {
      return null;
    }
    BigInteger bits = BigInteger.ZERO;
    for (int w = columns.length - 1; w >= 0; w--) {
      bits = bits.shiftLeft(64).or(new BigInteger(Long.toUnsignedString(columns[w][at])));
    }
    return bits.mod(BigInteger.ONE.shiftLeft(signal.width()));
  }

  private static boolean same(
      Watch watch, long[][] columns, Signal signal, long row, BigInteger wanted) {
    BigInteger actual = value(watch, columns, signal, row);
    return actual != null && actual.equals(wanted.mod(BigInteger.ONE.shiftLeft(signal.width())));
  }

  private Stage found(
      Watch watch,
      int g,
      long[][] columns,
      int before,
      Operand step,
      BigInteger expected,
      List<Seen> right) {
    Signal signal = watch.signals().get(g);
    BigInteger bits = value(watch, columns, signal, wrong - before);
    boolean same = bits != null && same(watch, columns, signal, wrong - before, expected);
    BigInteger actual =
        bits == null
            ? null
            : step.format().signed()
                    && bits.testBit(Math.min(signal.width(), step.format().width()) - 1)
                ? bits.subtract(BigInteger.ONE.shiftLeft(signal.width()))
                : bits;
    String when =
        before == 0 ? "" : ", " + before + (before == 1 ? " cycle" : " cycles") + " before";
    return new Stage(
        step,
        watch.names().get(g),
        signal.location().toString(),
        before,
        expected,
        same ? expected : actual,
        bits == null ? Relation.NOT_FOUND : same ? Relation.AGREES : Relation.DIFFERS,
        "equals the step in all " + right.size() + " operations that retired before" + when);
  }
}
