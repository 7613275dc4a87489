package dev.plumbline.lockstep;

import dev.plumbline.check.GearTrain;
import dev.plumbline.models.program.ProgramLimits;
import dev.plumbline.models.program.SceneFormats;
import dev.plumbline.models.program.WordLayout;
import dev.plumbline.models.traversal.Rays;
import dev.plumbline.rtl.Clock;
import dev.plumbline.rtl.Design;
import dev.plumbline.rtl.Port;
import dev.plumbline.rtl.SourceLocation;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;

/** The ports of a scene executor in software: every one that may be checked. */
record SoftPorts(SceneFormats formats, ProgramLimits limits, int spans) {
  private static final int TAG_BITS = 3;

  /** The outputs, and the further words of those that are wide. */
  Set<String> pins() {
    Set<String> pins = new TreeSet<>();
    outputs()
        .forEach(
            (port, width) -> {
              for (int word = 0; word < width; word += Long.SIZE) {
                pins.add(word == 0 ? port : port + "." + word / Long.SIZE);
              }
            });
    return pins;
  }

  private static int bits(int most) {
    return Math.max(1, Integer.SIZE - Integer.numberOfLeadingZeros(most));
  }

  private Map<String, Integer> outputs() {
    int word = formats.word().width();
    int material = bits(limits.materials() - 1);
    int surface = 3 + bits(limits.length() - 1);
    Map<String, Integer> widths = new TreeMap<>();
    for (String bit : List.of("ray_ready", "retire_valid", "result_valid")) {
      widths.put(bit, 1);
    }
    for (String count : List.of("retire_operation", "retire_height", "retire_count")) {
      widths.put(count, 8);
    }
    widths.put("retire_address", Math.max(8, bits(limits.length() - 1)));
    widths.put("retire_taken", 1);
    widths.put("retire_distance", 2 * spans * word);
    widths.put("retire_surface", 2 * spans * surface);
    widths.put("retire_best_surface", surface);
    widths.put("retire_material", 2 * spans * material);
    widths.put("retire_reversed", 2 * spans);
    widths.put("retire_overflow", 1);
    widths.put("result_overflow", 1);
    widths.put("result_address", surface - 3);
    widths.put("result_face", 3);
    widths.put("result_tag", TAG_BITS);
    widths.put("surface_word", WordLayout.standard(formats).width());
    for (String prefix : List.of("retire_best_", "result_")) {
      widths.put(prefix + "hit", 1);
      widths.put(prefix + "distance", word);
      widths.put(prefix + "material", material);
      widths.put(prefix + "reversed", 1);
      widths.put(prefix + "inward", 1);
    }
    for (String count : List.of("cycles", "operations", "predicted_right", "predicted_wrong")) {
      widths.put("result_" + count, 32);
    }
    return widths;
  }

  /** The ports of such an executor. */
  Design design() {
    List<Port> ports = new ArrayList<>();
    Map<String, Integer> inputs = new TreeMap<>();
    for (String bit :
        List.of(
            "clk", "rst", "load_valid", "ray_valid", "result_ready", "surface_read", "ray_abort")) {
      inputs.put(bit, 1);
    }
    inputs.put("load_address", bits(limits.length() - 1));
    inputs.put("surface_address", bits(limits.length() - 1));
    inputs.put("load_word", WordLayout.standard(formats).width());
    for (String column : Rays.names()) {
      inputs.put("ray_" + column, Ports.rayFormat(column, formats).width());
    }
    inputs.put("ray_tag", TAG_BITS);
    inputs.forEach(
        (name, width) ->
            ports.add(
                GearTrain.port(name, Port.Direction.INPUT, width, name.matches("ray_.*_[xyz]"))));
    outputs()
        .forEach(
            (name, width) ->
                ports.add(
                    GearTrain.port(
                        name,
                        Port.Direction.OUTPUT,
                        width,
                        name.equals("result_distance") || name.equals("retire_best_distance"))));
    return new Design(
        "soft_executor",
        ports,
        List.of(),
        List.of(new Clock("clk", Clock.Edge.RISING, new SourceLocation("rtl/soft_executor.sv", 9))),
        List.of(),
        List.of(),
        List.of(),
        List.of());
  }
}
