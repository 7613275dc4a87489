package dev.plumbline.samples.speed;

import dev.plumbline.models.program.Program;
import dev.plumbline.models.program.WordLayout;
import dev.plumbline.models.traversal.Rays;
import dev.plumbline.rtl.Design;
import dev.plumbline.rtl.Port;
import java.io.IOException;
import java.math.BigInteger;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;

/**
 * A plain C++ loop around the stock build of the scene executor: it loads a program, offers rays
 * back to back, takes each result at once, folds every narrow output into one word each cycle, and
 * checks nothing.
 */
final class SceneLoop {
  private static final String NAME = "rays";

  private final StockModel stock;
  private final Design design;
  private final Path data;

  /** What a run took; rays are counted by their results. */
  record Run(double seconds, double processorSeconds, long cycles, long rays) {}

  SceneLoop(StockModel stock, Design design, Path data) {
    this.stock = stock;
    this.design = design;
    this.data = data;
  }

  void build() throws IOException {
    stock.build(NAME, code());
  }

  /** Offers all rays so many times over. */
  Run run(Program program, Rays rays, int times) throws IOException {
    write(program, rays);
    String[] words = stock.run(NAME, data.toString(), Integer.toString(times));
    return new Run(
        Double.parseDouble(words[0]),
        Double.parseDouble(words[1]),
        Long.parseLong(words[2]),
        Long.parseLong(words[3]));
  }

  /** Number of words and of rays, the words in parts of 32 bits, then the rays column by column. */
  private void write(Program program, Rays rays) throws IOException {
    BigInteger[] words = WordLayout.standard(program.formats()).encode(program);
    List<Long> all = new ArrayList<>(List.of((long) words.length, (long) rays.capacity()));
    for (BigInteger word : words) {
      for (int part = 0; part < parts("load_word"); part++) {
        all.add(word.shiftRight(32 * part).longValue() & 0xFFFF_FFFFL);
      }
    }
    for (String name : Rays.names()) {
      long mask = StockModel.mask(port("ray_" + name));
      for (int ray = 0; ray < rays.capacity(); ray++) {
        all.add(rays.column(name)[ray] & mask);
      }
    }
    ByteBuffer bytes = ByteBuffer.allocate(8 * all.size()).order(ByteOrder.nativeOrder());
    all.forEach(bytes::putLong);
    Files.write(data, bytes.array());
  }

  private Port port(String name) {
    return design.findPort(name).orElseThrow();
  }

  private int parts(String name) {
    return (port(name).width() + 31) / 32;
  }

  private String code() {
    StringBuilder ray = new StringBuilder();
    int column = 0;
    for (String name : Rays.names()) {
      ray.append("      top->ray_" + name + " = rays[" + column++ + " * count + at];\n");
    }
    return """
    #include "Vstock.h"
    #include "verilated.h"
    #include <chrono>
    #include <cstdint>
    #include <cstdio>
    #include <cstdlib>
    #include <ctime>
    #include <vector>

    double sc_time_stamp() { return 0; }

    static Vstock* top;
    static void cycle() {
      top->clk = 0;
      top->eval();
      top->clk = 1;
      top->eval();
    }

    int main(int, char** argv) {
      std::FILE* file = std::fopen(argv[1], "rb");
      std::vector<uint64_t> data;
      uint64_t value;
      while (std::fread(&value, sizeof value, 1, file) == 1) data.push_back(value);
      std::fclose(file);
      const uint64_t length = data[0];
      const uint64_t count = data[1];
      const uint64_t* words = data.data() + 2;
      const uint64_t* rays = words + PARTS * length;
      const uint64_t wanted = count * std::strtoull(argv[2], nullptr, 10);
      top = new Vstock{new VerilatedContext};
      top->rst = 1;
      cycle();
      top->rst = 0;
      top->load_valid = 1;
      for (uint64_t i = 0; i < length; ++i) {
        top->load_address = i;
        for (int part = 0; part < PARTS; ++part) top->load_word[part] = words[PARTS * i + part];
        cycle();
      }
      top->load_valid = 0;
      top->ray_valid = 1;
      top->result_ready = 1;
      uint64_t sum = 0;
      uint64_t cycles = 0;
      uint64_t results = 0;
      uint64_t at = 0;
      const std::clock_t used = std::clock();
      const auto start = std::chrono::steady_clock::now();
      while (results < wanted) {
    RAY    top->clk = 0;
        top->eval();
        at = top->ray_ready ? at + 1 == count ? 0 : at + 1 : at;
        results += top->result_valid;
    FOLD    top->clk = 1;
        top->eval();
        ++cycles;
      }
      const std::chrono::duration<double> time = std::chrono::steady_clock::now() - start;
      const double processor = static_cast<double>(std::clock() - used) / CLOCKS_PER_SEC;
      std::printf("%.9f %.9f %llu %llu %llu\\n", time.count(), processor,
                  static_cast<unsigned long long>(cycles),
                  static_cast<unsigned long long>(results),
                  static_cast<unsigned long long>(sum));
      return 0;
    }
    """
        .replace("RAY", ray)
        .replace("FOLD", stock.fold())
        .replace("PARTS", Integer.toString(parts("load_word")));
  }
}
