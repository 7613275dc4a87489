package dev.plumbline.explain;

import dev.plumbline.contract.Reference;
import dev.plumbline.models.datapath.Operand;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.verdict.MismatchGroup.LikelyKind;
import dev.plumbline.window.Observation;
import dev.plumbline.window.Observation.Result;
import java.util.ArrayList;
import java.util.BitSet;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;

/**
 * Explanations by results alone, for a reference of any kind: it is evaluated again with operands
 * as the DUT may have taken them, or what it gives is changed as the DUT may have shown it. Where
 * the reference has state, all cases since it began are evaluated.
 */
final class ResultKinds {
  /** Wrong results that are looked at first. */
  private static final int FIRST = 8;

  private static final int[] NEIGHBOURS = {1, -1, 2, -2, 3, -3};

  /** Evaluations of references that are slow end somewhere. */
  private static final long MOST_NANOSECONDS = 8_000_000_000L;

  private final Reference reference;
  private final List<Held> held;
  private final List<Held> first; // a few wrong results of the first alone, to be quickly done
  private final boolean hasCycles;
  private final long started = System.nanoTime();
  private final Map<LikelyKind, List<String>> holding = new EnumMap<>(LikelyKind.class);
  private int tried;

  ResultKinds(Reference reference, List<Observation> seen) {
    this.reference = reference;
    this.held =
        seen.stream()
            .filter(one -> !one.places().isEmpty())
            .map(one -> new Held(new ChangedReference(one, one.places(), one.results(), reference)))
            .toList();
    this.first = hasState() ? List.of() : List.of(new Held(few(seen.get(0))));
    this.hasCycles = seen.get(0).hasCycles();
  }

  private boolean hasState() {
    return reference.isStateful();
  }

  private ChangedReference few(Observation seen) {
    List<Result> wrong = seen.results().stream().filter(Result::wrong).limit(FIRST).toList();
    return ChangedReference.near(seen, wrong, NEIGHBOURS.length / 2, reference);
  }

  int tried() {
    return tried;
  }

  /** What holds; the simplest kinds that do. */
  Map<LikelyKind, List<String>> find() {
    List<Runnable> inTurn =
        List.of(
            this::exchangedInputs,
            this::neighbours,
            this::narrowInputs,
            this::resets,
            this::exchangedOutputs,
            this::otherOutputs,
            this::neighbourOutputs,
            this::fields,
            this::wherever);
    for (Runnable next : inTurn) {
      next.run();
      if (!holding.isEmpty()) {
        break;
      }
    }
    return holding;
  }

  /** What was observed beside an evaluation that has room for it. */
  private final class Held {
    final ChangedReference all;
    final Reference.Evaluation evaluation;
    private final long[][][][] shown; // low or high, output, word, place: results to be changed

    Held(ChangedReference all) {
      this.all = all;
      this.evaluation = reference.open(all.places());
      this.shown = new long[2][reference.outputs().size()][][];
    }

    void fill() {
      all.fill(evaluation::input);
    }

    void run(BitSet begins) {
      if (hasState()) {
        begins.stream().forEach(evaluation::renewBefore);
      }
      evaluation.run(all.places());
    }

    boolean agrees() {
      return all.agrees(evaluation::low, evaluation::high);
    }

    /** Takes copies of what was given, to be changed. */
    void show() {
      for (int o = 0; o < shown[0].length; o++) {
        int words = reference.outputs().get(o).format().words();
        shown[0][o] = new long[words][];
        shown[1][o] = new long[words][];
        for (int word = 0; word < words; word++) {
          shown[0][o][word] = evaluation.low(o, word).clone();
          shown[1][o][word] = evaluation.high(o, word).clone();
        }
      }
    }

    boolean agreesAsShown() {
      return all.agrees(
          (output, word) -> shown[0][output][word], (output, word) -> shown[1][output][word]);
    }
  }

  /** What happens to the columns of the operands. */
  @FunctionalInterface
  private interface OfInputs {
    void apply(ChangedReference.Inputs columns, Held held);
  }

  /** What happens to one end of the results: columns by output and word. */
  @FunctionalInterface
  private interface OfOutputs {
    void apply(long[][][] columns);
  }

  private boolean isOver() {
    return System.nanoTime() - started > MOST_NANOSECONDS;
  }

  private void inputs(LikelyKind kind, String words, OfInputs change) {
    if (isOver()) {
      return;
    }
    tried++;
    if (agree(first, change) && agree(held, change)) {
      holding.computeIfAbsent(kind, key -> new ArrayList<>()).add(words);
    }
  }

  private static boolean agree(List<Held> some, OfInputs change) {
    for (Held each : some) {
      each.fill();
      change.apply(each.evaluation::input, each);
      try {
        each.run(each.all.begins());
      } catch (RuntimeException e) {
        return false; // an operand that the reference refuses
      }
      if (!each.agrees()) {
        return false;
      }
    }
    return true;
  }

  /** After the reference itself was run. */
  private void outputs(LikelyKind kind, String words, OfOutputs change) {
    if (isOver()) {
      return;
    }
    tried++;
    for (Held each : held) {
      each.show();
      change.apply(each.shown[0]);
      change.apply(each.shown[1]);
      if (!each.agreesAsShown()) {
        return;
      }
    }
    holding.computeIfAbsent(kind, key -> new ArrayList<>()).add(words);
  }

  private static String when(int far, boolean hasCycles) {
    int apart = Math.abs(far);
    String unit = hasCycles ? "cycle" : "case";
    return apart + " " + unit + (apart == 1 ? "" : "s") + (far > 0 ? " later" : " before");
  }

  private int wordOf(int operand) {
    return reference.inputs().subList(0, operand).stream()
        .mapToInt(each -> each.format().words())
        .sum();
  }

  private void exchangedInputs() {
    List<Operand> inputs = reference.inputs();
    for (int i = 0; i < inputs.size(); i++) {
      for (int j = i + 1; j < inputs.size(); j++) {
        int one = i;
        int other = j;
        if (inputs.get(j).format().equals(inputs.get(i).format())
            && inputs.get(i).format().words() == 1) {
          inputs(
              LikelyKind.EXCHANGED,
              "input " + inputs.get(i).name() + " and " + inputs.get(j).name() + " are exchanged",
              (columns, each) -> {
                long[] a = columns.column(one, 0);
                long[] b = columns.column(other, 0);
                long[] kept = a.clone();
                System.arraycopy(b, 0, a, 0, each.all.places());
                System.arraycopy(kept, 0, b, 0, each.all.places());
              });
        }
      }
    }
  }

  private void neighbours() {
    List<Operand> inputs = reference.inputs();
    for (int far : NEIGHBOURS) {
      for (int i = 0; i < inputs.size(); i++) {
        int operand = i;
        inputs(
            LikelyKind.NEIGHBOUR,
            "input " + inputs.get(i).name() + " is that of " + when(far, hasCycles),
            (columns, each) -> take(columns, each, operand, far, -1L));
      }
    }
  }

  /** Some bits of a neighbour's operand, the others one's own. */
  private void take(ChangedReference.Inputs columns, Held each, int operand, int far, long bits) {
    int at = wordOf(operand);
    Format format = reference.inputs().get(operand).format();
    for (int word = 0; word < format.words(); word++) {
      long[] column = columns.column(operand, word);
      for (int place = 0; place < each.all.places(); place++) {
        long other = each.all.beside(place, far)[at + word];
        long mixed = (column[place] & ~bits) | (other & bits);
        column[place] = bits == -1L ? other : format.extend(mixed);
      }
    }
  }

  /** A run of bits of an operand, where the rest is right. */
  private void fields() {
    List<Operand> inputs = reference.inputs();
    for (int i = 0; i < inputs.size(); i++) {
      int operand = i;
      int width = inputs.get(i).format().width();
      for (int far : width > Long.SIZE ? new int[0] : NEIGHBOURS) {
        for (int low = 0; low < width; low++) {
          for (int high = width - 1; high >= low; high--) {
            long bits = (-1L >>> (Long.SIZE - 1 - (high - low))) << low;
            String name = inputs.get(i).name();
            String field = high == low ? "bit " + low : "bits " + high + " to " + low;
            inputs(
                LikelyKind.NEIGHBOUR,
                "input " + name + " has " + field + " of " + when(far, hasCycles),
                (columns, each) -> take(columns, each, operand, far, bits));
          }
        }
      }
    }
  }

  private void narrowInputs() {
    List<Operand> inputs = reference.inputs();
    for (int i = 0; i < inputs.size(); i++) {
      int operand = i;
      Format format = inputs.get(i).format();
      if (format.words() > 1) {
        continue;
      }
      String name = "input " + inputs.get(i).name();
      for (OneCode.Change change : OneCode.changes(format)) {
        inputs(
            change.kind(),
            name + " " + change.words(),
            (columns, each) -> change.applyTo(columns.column(operand, 0), each.all.places()));
      }
    }
  }

  /** State that goes on through resets in mid-stream. */
  private void resets() {
    boolean any = held.stream().anyMatch(each -> each.all.begins().cardinality() > 1);
    if (!any || !hasState()) {
      return;
    }
    tried++;
    BitSet once = new BitSet();
    once.set(0);
    for (Held each : held) {
      each.fill();
      each.run(once);
      if (!each.agrees()) {
        return;
      }
    }
    holding.put(LikelyKind.RESET, List.of("what is remembered outlives a reset in mid-stream"));
  }

  private void plain() {
    for (Held each : held) {
      each.fill();
      each.run(each.all.begins());
    }
  }

  private void exchangedOutputs() {
    plain();
    List<Operand> outputs = reference.outputs();
    for (int i = 0; i < outputs.size(); i++) {
      for (int j = i + 1; j < outputs.size(); j++) {
        int one = i;
        int other = j;
        if (outputs.get(j).format().equals(outputs.get(i).format())) {
          outputs(
              LikelyKind.EXCHANGED,
              "output "
                  + outputs.get(i).name()
                  + " and "
                  + outputs.get(j).name()
                  + " are exchanged",
              columns -> {
                long[][] kept = columns[one];
                columns[one] = columns[other];
                columns[other] = kept;
              });
        }
      }
    }
  }

  private void otherOutputs() {
    List<Operand> outputs = reference.outputs();
    for (int i = 0; i < outputs.size(); i++) {
      int output = i;
      Format format = outputs.get(i).format();
      if (format.words() > 1) {
        continue;
      }
      for (OneCode.Change change : OneCode.changes(format)) {
        outputs(
            change.kind(),
            "output " + outputs.get(i).name() + " " + change.words(),
            columns -> change.applyTo(columns[output][0], columns[output][0].length));
      }
    }
  }

  /** Every output of a case shows what belongs to another. */
  private void neighbourOutputs() {
    for (int i = 0; i < reference.outputs().size(); i++) {
      int output = i;
      for (int far : NEIGHBOURS) {
        outputs(
            LikelyKind.NEIGHBOUR,
            "output "
                + reference.outputs().get(i).name()
                + " is that of "
                + when(far, held.get(0).all.seen().isByRow()),
            columns -> {
              for (long[] column : columns[output]) {
                int length = Math.max(0, column.length - Math.abs(far));
                System.arraycopy(column, Math.max(far, 0), column, Math.max(-far, 0), length);
              }
            });
      }
    }
  }

  /** What the cases have in common that are wrong, and no other has. */
  private void wherever() {
    if (!hasState()) {
      Wherever wherever = new Wherever(reference);
      held.forEach(each -> wherever.add(each.all.seen()));
      tried += wherever.tried();
      wherever.find().forEach((kind, words) -> holding.put(kind, List.of(words)));
    }
  }
}
