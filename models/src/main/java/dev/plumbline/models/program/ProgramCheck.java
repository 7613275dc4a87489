package dev.plumbline.models.program;

import dev.plumbline.models.fixed.Format;
import java.math.BigInteger;
import java.util.List;

/** Every rule that a program keeps; the first operation that breaks one is named. */
final class ProgramCheck {
  private final SceneFormats formats;
  private final ProgramLimits limits;
  private final List<Operation> operations;
  private int address;

  ProgramCheck(SceneFormats formats, ProgramLimits limits, List<Operation> operations) {
    this.formats = formats;
    this.limits = limits;
    this.operations = operations;
  }

  void check() {
    boolean[] between = new boolean[operations.size()];
    int height = 0;
    int begun = -1;
    for (address = 0; address < operations.size(); address++) {
      Operation operation = operations.get(address);
      OperationKind kind = operation.kind();
      if (address >= limits.length()) {
        throw fault(
            "the program is too long: the memory holds "
                + limits.length()
                + " operations; leave some out or raise the limit");
      }
      between[address] = begun < 0;
      checkOperands(operation);
      boolean outside =
          kind == OperationKind.BEGIN || kind == OperationKind.SKIP || kind == OperationKind.END;
      if (outside && begun >= 0) {
        throw fault(
            "it stands inside the object begun at address "
                + begun
                + ": begin, skip and end belong between objects; close the object first");
      }
      if (!outside && begun < 0) {
        throw fault(
            "it stands outside objects: solids, combinations and close belong behind a"
                + " begin; begin an object first");
      }
      if (kind.isCombination() && height < 2) {
        throw fault(
            "the stack holds "
                + lists(height)
                + ": a combination takes 2; put both solids before it");
      }
      if (kind == OperationKind.CLOSE && height != 1) {
        throw fault(
            "the stack holds "
                + lists(height)
                + ": an object is closed with exactly 1; "
                + (height == 0 ? "put a solid before it" : "combine its solids"));
      }
      height += kind.growth();
      if (height > limits.depth()) {
        throw fault(
            "the stack would hold "
                + lists(height)
                + ": its depth is "
                + limits.depth()
                + "; combine earlier or raise the limit");
      }
      if (kind == OperationKind.BEGIN) {
        begun = address;
      } else if (kind == OperationKind.CLOSE) {
        begun = -1;
      }
    }
    checkEnd(begun);
    for (address = 0; address < operations.size(); address++) {
      if (operations.get(address).kind() == OperationKind.SKIP) {
        checkTarget(between);
      }
    }
  }

  private void checkEnd(int begun) {
    boolean ended = address > 0 && operations.get(address - 1).kind() == OperationKind.END;
    if (begun >= 0) {
      throw new ProgramException(
          begun, "begin at address " + begun + " without its close: close the object");
    }
    if (!ended) {
      throw new ProgramException(
          address,
          "program of "
              + address
              + " operations without its end: end is the last operation;"
              + " add it at address "
              + address);
    }
  }

  private void checkTarget(boolean[] between) {
    int target = operations.get(address).target();
    if (target <= address) {
      throw fault(
          "it goes to "
              + target
              + ": skips go forwards; give a target of "
              + (address + 1)
              + " or more");
    }
    if (target >= between.length) {
      throw fault(
          "it goes to "
              + target
              + ": that is past the end of the program; give a target"
              + " of at most "
              + (between.length - 1));
    }
    if (!between[target]) {
      throw fault(
          "it goes to "
              + target
              + ": that is inside an object; give the address of a"
              + " begin, skip or end");
    }
  }

  private void checkOperands(Operation operation) {
    List<String> names = operation.kind().operands();
    for (int i = 0; i < names.size(); i++) {
      Format format = formats.operand(names.get(i));
      if (!format.holds(BigInteger.valueOf(operation.operand(i)))) {
        throw fault(
            "its "
                + names.get(i)
                + " is "
                + operation.operand(i)
                + ": a code of "
                + format
                + " is "
                + format.minCode()
                + " to "
                + format.maxCode()
                + "; scale the scene or widen the format");
      }
    }
    if (operation.material() >= limits.materials()) {
      throw fault(
          "its material is "
              + operation.material()
              + ": there are "
              + limits.materials()
              + ", counted from 0; choose one of these");
    }
  }

  private static String lists(int height) {
    return height + (height == 1 ? " list" : " lists");
  }

  private ProgramException fault(String what) {
    return new ProgramException(
        address, operations.get(address).kind() + " at address " + address + ": " + what);
  }
}
