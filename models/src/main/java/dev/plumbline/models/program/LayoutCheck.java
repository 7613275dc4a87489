package dev.plumbline.models.program;

import java.math.BigInteger;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

/** Every rule that a layout keeps. */
record LayoutCheck(int width, LayoutField opcode, Map<OperationKind, Integer> codes) {
  void check(OperationKind kind, Map<String, LayoutField> fields) {
    checkCode(kind, codes.get(kind));
    List<String> missing = new ArrayList<>(LayoutText.names(kind));
    missing.removeAll(fields.keySet());
    if (!missing.isEmpty()) {
      throw new IllegalArgumentException(
          kind + " without the fields " + missing + ": declare each of them.");
    }
    Map<String, LayoutField> all = new LinkedHashMap<>(fields);
    all.put(LayoutField.OPCODE, opcode);
    checkPlaces(kind, all);
  }

  private void checkCode(OperationKind kind, int code) {
    codes.forEach(
        (other, same) -> {
          if (other != kind && same == code) {
            throw new IllegalArgumentException(
                "Opcode " + code + " of " + kind + ": " + other + " has it; give each its own.");
          }
        });
    if (code < 0 || code > opcode.mask().intValue()) {
      throw new IllegalArgumentException(
          "Opcode " + code + " of " + kind + ": it has to be 0 to " + opcode.mask() + ".");
    }
  }

  private void checkPlaces(OperationKind kind, Map<String, LayoutField> fields) {
    BigInteger taken = BigInteger.ZERO;
    for (Map.Entry<String, LayoutField> entry : fields.entrySet()) {
      LayoutField field = entry.getValue();
      String place =
          "field \""
              + entry.getKey()
              + "\" of "
              + kind
              + " in bits "
              + field.lowest()
              + " to "
              + (field.end() - 1);
      if (field.lowest() < 0 || field.end() > width) {
        throw new IllegalArgumentException(place + ": the word has bits 0 to " + (width - 1) + ".");
      }
      BigInteger bits = field.mask().shiftLeft(field.lowest());
      if (bits.and(taken).signum() != 0) {
        throw new IllegalArgumentException(
            place + ": another field of the operation lies there; move one of them.");
      }
      taken = taken.or(bits);
    }
  }
}
