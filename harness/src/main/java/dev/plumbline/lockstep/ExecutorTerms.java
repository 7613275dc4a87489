package dev.plumbline.lockstep;

import dev.plumbline.lockstep.Output.Promise;
import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.program.ProgramLimits;
import dev.plumbline.models.program.SceneFormats;
import dev.plumbline.models.traversal.Predictor;
import dev.plumbline.models.traversal.Retirement;
import dev.plumbline.models.traversal.SurfaceNumber;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.Stream;

/**
 * What an executor's outputs are, as the model gives them, in the order in which they are compared.
 */
final class ExecutorTerms {
  private static final int FACE_BITS = 3;
  private static final Format COUNT = Format.unsigned(32, 0);

  /** The standard names of all of them. */
  static final List<String> NAMES = names();

  private ExecutorTerms() {}

  private static List<String> names() {
    Format any = Format.signed(2, 0);
    Executor whole =
        Executor.of(new SceneFormats(any, any, any), new ProgramLimits(1, 1, 1))
            .timing(1, 1, Predictor.Policy.NONE, 0)
            .build();
    return Stream.concat(retired(whole).stream(), results(whole).stream())
        .map(Promise::role)
        .toList();
  }

  static List<Promise> retired(Executor executor) {
    Format word = executor.formats().word();
    Format material = material(executor);
    int ends = 2 * executor.spans();
    List<Promise> promises = new ArrayList<>();
    promises.add(number("retire_address", (r, t, e) -> r.address()));
    promises.add(
        number("retire_operation", (r, t, e) -> executor.layout().opcode(r.operation().kind())));
    promises.add(bit("retire_taken", (r, t, e) -> flag(r.isSkipTaken())));
    promises.add(number("retire_height", (r, t, e) -> r.height()));
    promises.add(number("retire_count", (r, t, e) -> r.top().count()));
    promises.add(
        new Promise(
            "retire_distance", word, ends, (r, t, e) -> isEnd(r, e) ? r.top().distance(e) : 0));
    promises.add(
        new Promise(
            "retire_surface",
            surface(executor),
            ends,
            (r, t, e) -> isEnd(r, e) ? surface(executor, r.top().surface(e)) : 0));
    promises.add(
        new Promise(
            "retire_material", material, ends, (r, t, e) -> isEnd(r, e) ? r.material(e) : 0));
    promises.add(
        new Promise(
            "retire_reversed",
            Format.bit(),
            ends,
            (r, t, e) -> flag(isEnd(r, e) && r.top().isReversed(e))));
    promises.addAll(best("retire_best_", executor, false));
    promises.add(bit("retire_overflow", (r, t, e) -> flag(r.hasOverflowed())));
    return promises;
  }

  static List<Promise> results(Executor executor) {
    List<Promise> promises =
        new ArrayList<>(best("result_", executor, executor.rules().anyHitAlone()));
    promises.add(bit("result_overflow", (r, t, e) -> flag(r.hasOverflowed())));
    promises.add(number("result_tag", (r, t, e) -> r.tag()));
    if (executor.timing() != null) {
      promises.add(new Promise("result_cycles", COUNT, 1, (r, t, e) -> t.cycles()));
      promises.add(new Promise("result_operations", COUNT, 1, (r, t, e) -> t.retired()));
      promises.add(new Promise("result_predicted_right", COUNT, 1, (r, t, e) -> t.right()));
      promises.add(new Promise("result_predicted_wrong", COUNT, 1, (r, t, e) -> t.wrong()));
    }
    promises.add(SurfaceReads.promise(executor.layout().width()));
    return promises;
  }

  /** Whether any-hit rays tell the hit alone. */
  private static List<Promise> best(String prefix, Executor executor, boolean alone) {
    Format word = executor.formats().word();
    return List.of(
        bit(prefix + "hit", (r, t, e) -> flag(r.isFound())),
        new Promise(prefix + "distance", word, 1, (r, t, e) -> isTold(r, alone) ? r.distance() : 0),
        new Promise(
            prefix + "surface",
            surface(executor),
            1,
            (r, t, e) -> isTold(r, alone) ? surface(executor, r.surface()) : 0),
        number(
            prefix + "address",
            (r, t, e) -> isTold(r, alone) ? SurfaceNumber.address(r.surface()) : 0),
        number(
            prefix + "face", (r, t, e) -> isTold(r, alone) ? SurfaceNumber.face(r.surface()) : 0),
        new Promise(
            prefix + "material",
            material(executor),
            1,
            (r, t, e) -> isTold(r, alone) ? r.material() : 0),
        bit(prefix + "reversed", (r, t, e) -> flag(isTold(r, alone) && r.isReversed())),
        bit(prefix + "inward", (r, t, e) -> flag(isTold(r, alone) && r.isInward())));
  }

  private static boolean isTold(Retirement observed, boolean alone) {
    return observed.isFound() && !(alone && observed.isAnyHit());
  }

  /** A surface's bits: its solid's address, as wide as the longest program needs, and its face. */
  static Format surface(Executor executor) {
    return Format.unsigned(addressBits(executor) + FACE_BITS, 0);
  }

  static long surface(Executor executor, int surface) {
    return (long) SurfaceNumber.face(surface) << addressBits(executor)
        | SurfaceNumber.address(surface);
  }

  /** The number that a surface's bits stand for. */
  static int surfaceOf(Executor executor, long code) {
    int bits = addressBits(executor);
    return SurfaceNumber.of((int) (code & ((1L << bits) - 1)), (int) (code >> bits));
  }

  private static int addressBits(Executor executor) {
    int last = executor.limits().length() - 1;
    return Math.max(1, Integer.SIZE - Integer.numberOfLeadingZeros(last));
  }

  /** A material's bits are those that the executor's limits need. */
  static Format material(Executor executor) {
    int most = executor.limits().materials() - 1;
    return Format.unsigned(Math.max(1, Integer.SIZE - Integer.numberOfLeadingZeros(most)), 0);
  }

  private static Promise number(String role, Output.Value value) {
    return new Promise(role, COUNT, 1, value);
  }

  private static Promise bit(String role, Output.Value value) {
    return new Promise(role, Format.bit(), 1, value);
  }

  private static boolean isEnd(Retirement observed, int end) {
    return end < 2 * observed.top().count();
  }

  private static long flag(boolean set) {
    return set ? 1 : 0;
  }
}
