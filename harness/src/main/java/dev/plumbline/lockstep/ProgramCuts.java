package dev.plumbline.lockstep;

import dev.plumbline.models.program.Operation;
import dev.plumbline.models.program.OperationKind;
import dev.plumbline.models.program.Program;
import dev.plumbline.models.program.ProgramException;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.IntPredicate;

/** Programs with less in them: without some objects and skips, or with one list in place of two. */
final class ProgramCuts {
  private ProgramCuts() {}

  /** Where the objects and skips of a program begin, and where its end is. */
  static List<Integer> units(Program program) {
    List<Integer> units = new ArrayList<>();
    boolean inside = false;
    for (int address = 0; address < program.length(); address++) {
      OperationKind kind = program.at(address).kind();
      if (!inside) {
        units.add(address);
      }
      inside = kind == OperationKind.BEGIN || (inside && kind != OperationKind.CLOSE);
    }
    return units;
  }

  /** Without the units from one to another; the last operation, its end, stays. */
  static Optional<Program> without(Program program, int firstUnit, int pastUnit) {
    List<Integer> units = units(program);
    int from = units.get(firstUnit);
    int to = pastUnit < units.size() ? units.get(pastUnit) : program.length() - 1;
    return without(program, address -> address >= from && address < to);
  }

  /** Of every combination, with its left or its right list in its place; outermost first. */
  static List<Program> withOneList(Program program) {
    List<Program> made = new ArrayList<>();
    for (int last = program.length() - 1; last >= 0; last--) {
      if (program.at(last).kind().isCombination()) {
        int at = last;
        int right = beginOfList(program, at - 1);
        int left = beginOfList(program, right - 1);
        without(program, address -> address >= right && address <= at).ifPresent(made::add);
        without(program, address -> (address >= left && address < right) || address == at)
            .ifPresent(made::add);
      }
    }
    return made;
  }

  /** Where the operations begin that put a list on the stack; the last of them is given. */
  private static int beginOfList(Program program, int last) {
    int wanted = 1;
    int address = last;
    while (true) {
      wanted += program.at(address).kind().isCombination() ? 1 : -1;
      if (wanted == 0) {
        return address;
      }
      address--;
    }
  }

  /** Skips go on at what stays behind their target. */
  private static Optional<Program> without(Program program, IntPredicate left) {
    List<Operation> kept = new ArrayList<>();
    int[] places = new int[program.length()];
    for (int address = 0; address < program.length(); address++) {
      places[address] = kept.size();
      if (!left.test(address)) {
        kept.add(program.at(address));
      }
    }
    return kept.size() == program.length() ? Optional.empty() : program(program, kept, places);
  }

  /** With an operation in the place of another. */
  static Optional<Program> with(Program program, int address, Operation other) {
    List<Operation> operations = new ArrayList<>(program.operations());
    operations.set(address, other);
    try {
      return Optional.of(Program.of(program.formats(), program.limits(), operations));
    } catch (ProgramException e) {
      return Optional.empty(); // an operand or a target that cannot be
    }
  }

  private static Optional<Program> program(Program of, List<Operation> kept, int[] places) {
    List<Operation> operations = new ArrayList<>();
    for (Operation operation : kept) {
      operations.add(
          operation.kind() == OperationKind.SKIP
              ? Operation.skip(places[operation.target()], operands(operation))
              : operation);
    }
    try {
      return Optional.of(Program.of(of.formats(), of.limits(), operations));
    } catch (ProgramException e) {
      return Optional.empty();
    }
  }

  /** The codes of an operation's operands. */
  static long[] operands(Operation operation) {
    long[] operands = new long[operation.kind().operands().size()];
    for (int i = 0; i < operands.length; i++) {
      operands[i] = operation.operand(i);
    }
    return operands;
  }

  /** The same operation with other operands. */
  static Operation with(Operation operation, long[] operands) {
    return operation.kind() == OperationKind.SKIP
        ? Operation.skip(operation.target(), operands)
        : Operation.solid(operation.kind(), operation.material(), operands);
  }
}
