package dev.plumbline.models.program;

import dev.plumbline.models.fixed.Format;
import java.math.BigDecimal;
import java.math.BigInteger;
import java.util.Map;

/** Puts operations into words and takes them out again, as a layout declares. */
final class LayoutCodec {
  private static final String RADIUS = "radius";

  private final int width;
  private final LayoutField opcode;
  private final Map<OperationKind, Integer> codes;
  private final Map<OperationKind, Map<String, LayoutField>> fields;

  LayoutCodec(
      int width,
      LayoutField opcode,
      Map<OperationKind, Integer> codes,
      Map<OperationKind, Map<String, LayoutField>> fields) {
    this.width = width;
    this.opcode = opcode;
    this.codes = codes;
    this.fields = fields;
  }

  BigInteger encode(Program program, int address) {
    Operation operation = program.at(address);
    OperationKind kind = operation.kind();
    Integer code = codes.get(kind);
    if (code == null) {
      throw fault(address, kind, "the layout has no opcode for it: " + codes + "; declare one");
    }
    BigInteger word = BigInteger.valueOf(code).shiftLeft(opcode.lowest());
    for (Map.Entry<String, LayoutField> entry : fields.get(kind).entrySet()) {
      if (kind.derived().contains(entry.getKey())) {
        word = word.or(entry.getValue().inverse(value(program, operation, RADIUS)));
        continue;
      }
      BigDecimal value = value(program, operation, entry.getKey());
      BigInteger bits = entry.getValue().bits(value);
      if (bits == null) {
        throw fault(
            address,
            kind,
            entry.getKey()
                + " is "
                + value.toPlainString()
                + ": a field of "
                + entry.getValue().format()
                + " does not hold it exactly; change the scene or the layout");
      }
      word = word.or(bits);
    }
    return word;
  }

  private static BigDecimal value(Program program, Operation operation, String name) {
    int index = operation.kind().operands().indexOf(name);
    if (index < 0) {
      return BigDecimal.valueOf(
          name.equals(LayoutField.MATERIAL) ? operation.material() : operation.target());
    }
    Format format = program.formats().operand(name);
    return format.toDecimal(format.fromWords(operation.operand(index)));
  }

  Operation decode(BigInteger word, int address, SceneFormats formats) {
    if (word.signum() < 0 || word.bitLength() > width) {
      throw fault(address, word, "it has to fit " + width + " bits");
    }
    int code = opcode.value(word).intValueExact();
    for (Map.Entry<OperationKind, Integer> entry : codes.entrySet()) {
      if (entry.getValue() == code) {
        return decode(entry.getKey(), word, address, formats);
      }
    }
    throw fault(address, word, code + " is no opcode; there are " + codes);
  }

  private Operation decode(OperationKind kind, BigInteger word, int address, SceneFormats formats) {
    long[] operands = new long[kind.operands().size()];
    int material = 0;
    int target = 0;
    for (Map.Entry<String, LayoutField> entry : fields.get(kind).entrySet()) {
      String name = entry.getKey();
      if (kind.derived().contains(name)) {
        continue;
      }
      BigDecimal value = entry.getValue().value(word);
      int index = kind.operands().indexOf(name);
      if (index >= 0) {
        operands[index] = operand(kind, name, value, address, formats.operand(name));
      } else if (name.equals(LayoutField.MATERIAL)) {
        material = value.intValueExact();
      } else {
        target = value.intValueExact();
      }
    }
    return new Operation(kind, operands, material, target);
  }

  private static long operand(
      OperationKind kind, String name, BigDecimal value, int address, Format wanted) {
    BigInteger operand = LayoutField.exactCode(value, wanted);
    if (operand == null) {
      throw fault(
          address,
          kind,
          name
              + " is "
              + value.toPlainString()
              + ": "
              + wanted
              + " does not hold it exactly; give the program other formats");
    }
    return operand.longValue();
  }

  private static ProgramException fault(int address, OperationKind kind, String what) {
    return new ProgramException(address, kind + " at address " + address + ": " + what);
  }

  private static ProgramException fault(int address, BigInteger word, String what) {
    return new ProgramException(
        address, "word " + word.toString(16) + " at address " + address + ": " + what);
  }
}
