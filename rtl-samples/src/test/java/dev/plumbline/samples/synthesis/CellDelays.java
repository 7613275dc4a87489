package dev.plumbline.samples.synthesis;

/**
 * Delays in nanoseconds of the cells that {@code synth_ecp5} of Yosys maps to, for a middle speed
 * grade: from memory, no source. A wire takes the same wherever it goes; carries and the
 * multiplexers behind tables have none.
 */
final class CellDelays {
  /** From its clock to its output. */
  static final double REGISTER = 0.52;

  static final double WIRE = 0.6;
  private static final double MEMORY = 5.7;
  private static final double MULTIPLIER = 3.9;
  private static final double TABLE = 0.24;
  private static final double MULTIPLEXER = 0.17;
  private static final double INTO_CARRY = 0.45;
  private static final double ALONG_CARRY = 0.07;
  private static final double OUT_OF_CARRY = 0.44;

  private CellDelays() {}

  static boolean isOutput(String kind, String port) {
    return switch (kind) {
      case "LUT4", "PFUMX", "L6MUX21" -> port.equals("Z");
      case "CCU2C" -> port.equals("S0") || port.equals("S1") || port.equals("COUT");
      case "MULT18X18D" -> port.matches("P\\d+");
      case "DP16KD" -> port.matches("DO[AB]\\d+");
      case "TRELLIS_FF" -> port.equals("Q");
      case "TRELLIS_DPR16X4" -> port.startsWith("DO");
      default -> throw new IllegalArgumentException("A cell without delays: " + kind);
    };
  }

  /** Whether paths begin at its outputs, since it has a register before them. */
  static boolean isStart(String kind) {
    return kind.equals("TRELLIS_FF") || kind.equals("DP16KD");
  }

  static double start(String kind) {
    return kind.equals("DP16KD") ? MEMORY : REGISTER;
  }

  /** Whether a path ends at an input. */
  static boolean isEnd(String kind, String port) {
    boolean clock = port.startsWith("CLK") || port.equals("WCK");
    boolean address = kind.equals("TRELLIS_DPR16X4") && port.startsWith("RAD");
    return (isStart(kind) || kind.equals("TRELLIS_DPR16X4"))
        && !isOutput(kind, port)
        && !clock
        && !address;
  }

  /** From an input to an output of a cell without registers; NaN where there is no such way. */
  static double through(String kind, String input, String output) {
    if (isOutput(kind, input)) {
      return Double.NaN;
    }
    return switch (kind) {
      case "LUT4" -> TABLE;
      case "PFUMX", "L6MUX21" -> MULTIPLEXER;
      case "CCU2C" -> carry(input, output);
      case "MULT18X18D" -> input.matches("[AB]\\d+") ? MULTIPLIER : Double.NaN;
      case "TRELLIS_DPR16X4" -> input.startsWith("RAD") ? TABLE : Double.NaN;
      default -> Double.NaN;
    };
  }

  private static double carry(String input, String output) {
    boolean carried = input.equals("CIN");
    if (output.equals("COUT")) {
      return carried ? ALONG_CARRY : INTO_CARRY;
    }
    if (output.equals("S0") && input.endsWith("1")) {
      return Double.NaN; // the higher of the two bits
    }
    return carried ? OUT_OF_CARRY : INTO_CARRY;
  }

  /** Of the wire to an input. */
  static double wireInto(String kind, String port) {
    boolean chained =
        kind.equals("CCU2C") && port.equals("CIN")
            || kind.equals("PFUMX") && port.endsWith("LUT")
            || kind.equals("L6MUX21") && port.matches("D[01]");
    return chained ? 0 : WIRE;
  }
}
