package dev.plumbline.models.light;

import dev.plumbline.models.fixed.Format;
import dev.plumbline.models.fixed.Rounding;
import dev.plumbline.models.program.Operation;
import dev.plumbline.models.program.OperationKind;
import dev.plumbline.models.program.Program;
import java.math.BigInteger;

/** What shading knows of each solid of a program, by address. */
final class SurfaceTable {
  static final int AXES = 3;

  private final Program program;

  SurfaceTable(Program program) {
    this.program = program;
  }

  long sphere(int address) {
    return program.at(address).kind() == OperationKind.SPHERE ? 1 : 0;
  }

  long box(int address) {
    return program.at(address).kind() == OperationKind.BOX ? 1 : 0;
  }

  /** Of a sphere, else 0. */
  long centre(int address, int axis) {
    return sphere(address) == 1 ? program.at(address).operand(axis) : 0;
  }

  /** Of a half-space, else 0. */
  long plane(int address, int axis) {
    Operation solid = program.at(address);
    return solid.kind() == OperationKind.HALF_SPACE ? solid.operand(axis) : 0;
  }

  /** Of a sphere, else 0. */
  long inverseRadius(int address) {
    return sphere(address) == 1
        ? inverse(program.formats().word(), program.at(address).operand(AXES))
        : 0;
  }

  int material(int address) {
    return program.at(address).material();
  }

  /** One over a radius to the nearest code, a half upwards, saturated; of 0 or less the largest. */
  static long inverse(Format word, long radius) {
    if (radius <= 0) {
      return word.maxCode().longValue();
    }
    BigInteger unit = BigInteger.ONE.shiftLeft(2 * word.fractionBits() + 1); // of two halves
    BigInteger halves = unit.divide(BigInteger.valueOf(radius));
    BigInteger code = Rounding.HALF_CEILING.divide(halves, BigInteger.TWO);
    return code.min(word.maxCode()).longValue();
  }
}
