package dev.plumbline.samples.speed;

import dev.plumbline.rtl.Design;
import dev.plumbline.rtl.Port;
import java.util.Locale;

/**
 * A bare C++ bench that draws and digests as {@code plumbline shake --help} says, written from that
 * text: SplitMix64 (G. Steele, D. Lea and C. Flood 2014) and FNV-1a (RFC 9923).
 */
final class ShakeLoop {
  private static final int EIGHT = 8; // cycles of reset
  private static final int HALF = 32; // bits: wide ports are arrays of these

  private final Design design;
  private final String clock;
  private final String reset;
  private final boolean resetLow;

  /** Of a clock and a reset, which ends in {@code :low} where it is active low; empty for none. */
  ShakeLoop(Design design, String clock, String reset) {
    this.design = design;
    this.clock = clock;
    this.reset = reset.replace(":low", "");
    this.resetLow = reset.endsWith(":low");
  }

  String code() {
    StringBuilder drive = new StringBuilder();
    StringBuilder fold = new StringBuilder();
    if (!reset.isEmpty()) {
      String asserted = "i < " + EIGHT;
      drive.append(line("top->" + reset + " = " + (resetLow ? "!(" + asserted + ")" : asserted)));
    }
    for (Port port : design.ports()) {
      boolean output = port.direction() == Port.Direction.OUTPUT;
      if (output || !(port.name().equals(clock) || port.name().equals(reset))) {
        for (int word = 0; word < port.words(); word++) {
          (output ? fold : drive).append(output ? sampled(port, word) : driven(port, word));
        }
      }
    }
    String low = clock.isEmpty() ? "" : line("top->" + clock + " = 0");
    String high = clock.isEmpty() ? "" : line("top->" + clock + " = 1") + line("top->eval()");
    return """
    #include "Vstock.h"
    #include "verilated.h"
    #include <chrono>
    #include <cstdint>
    #include <cstdio>
    #include <cstdlib>
    #include <ctime>

    static uint64_t state;
    static inline uint64_t next() {
      uint64_t z = state += 0x9E3779B97F4A7C15ULL;
      z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9ULL;
      z = (z ^ (z >> 27)) * 0x94D049BB133111EBULL;
      return z ^ (z >> 31);
    }
    static uint64_t digest = 0xCBF29CE484222325ULL;
    static inline void fold(uint64_t word) {
      for (int i = 0; i < 8; ++i) digest = (digest ^ (word >> 8 * i & 0xFF)) * 0x100000001B3ULL;
    }
    double sc_time_stamp() { return 0; }

    int main(int, char** argv) {
      const uint64_t cycles = std::strtoull(argv[1], nullptr, 10);
      state = std::strtoull(argv[2], nullptr, 10);
      Vstock* top = new Vstock{new VerilatedContext};
      const std::clock_t used = std::clock();
      const auto start = std::chrono::steady_clock::now();
      for (uint64_t i = 0; i < cycles; ++i) {
    DRIVELOW    top->eval();
    FOLDHIGH  }
      const std::chrono::duration<double> time = std::chrono::steady_clock::now() - start;
      const double processor = static_cast<double>(std::clock() - used) / CLOCKS_PER_SEC;
      std::printf("%.9f %.9f %016llx\\n", time.count(), processor,
                  static_cast<unsigned long long>(digest));
      return 0;
    }
    """
        .replace("DRIVE", drive)
        .replace("LOW", low)
        .replace("FOLD", fold)
        .replace("HIGH", high);
  }

  private static String line(String statement) {
    return "    " + statement + ";\n";
  }

  private static String driven(Port port, int word) {
    String member = "top->" + port.name();
    int bits = Math.min(Long.SIZE, port.width() - word * Long.SIZE);
    String drawn = String.format(Locale.ROOT, "next() & 0x%xULL", -1L >>> (Long.SIZE - bits));
    if (port.width() <= Long.SIZE) {
      return line(member + " = " + drawn);
    }
    String halves = "const uint64_t w = " + drawn + "; " + member + "[" + 2 * word + "] = w;";
    return bits > HALF
        ? line("{ " + halves + " " + member + "[" + (2 * word + 1) + "] = w >> 32; }")
        : line("{ " + halves + " }");
  }

  private static String sampled(Port port, int word) {
    String member = "top->" + port.name();
    if (port.width() <= Long.SIZE) {
      return line("fold(" + member + ")");
    }
    int bits = port.width() - word * Long.SIZE;
    String low = member + "[" + 2 * word + "]";
    String high = "static_cast<uint64_t>(" + member + "[" + (2 * word + 1) + "]) << 32 | ";
    return line("fold(" + (bits > HALF ? high : "") + low + ")");
  }
}
