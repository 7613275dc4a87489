package dev.plumbline.models.datapath;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;

/**
 * Which values of a datapath are codes of floating point: those that such steps take and give, and
 * those that are handed on as they stand.
 */
final class FloatCodes {
  private final Map<Value, FloatFormat> formats = new HashMap<>();

  private FloatCodes() {}

  static Map<Value, FloatFormat> of(List<Value> values) {
    FloatCodes codes = new FloatCodes();
    for (Value value : values) {
      codes.put(value, value.step().floatResult());
      value.step().operands().forEach(o -> codes.put(o, value.step().floatOperands()));
    }
    boolean found = !codes.formats.isEmpty();
    while (found) {
      found = false;
      for (Value value : values) {
        found |= codes.handOn(value);
      }
    }
    return codes.formats;
  }

  private boolean put(Value value, FloatFormat format) {
    return format != null
        && value.format().equals(format.bits())
        && formats.putIfAbsent(value, format) == null;
  }

  /** Whether something new is known of a result, or of what it is handed on from. */
  private boolean handOn(Value result) {
    List<Value> alike = new ArrayList<>(result.step().handedOn());
    alike.add(result);
    FloatFormat known =
        alike.stream().map(formats::get).filter(f -> f != null).findFirst().orElse(null);
    boolean found = false;
    for (Value value : alike) {
      found |= put(value, known);
    }
    return found;
  }
}
