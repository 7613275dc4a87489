package dev.plumbline.samples.speed;

import dev.plumbline.samples.OrreryHost;
import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;

/**
 * A plain C++ loop around the stock build of the whole chip: it writes what a host writes, draws a
 * frame, folds every narrow output into one word each cycle, and looks at nothing.
 */
final class FrameLoop {
  private static final String NAME = "frame";

  private final StockModel stock;
  private final Path data;

  /** What a frame took. */
  record Run(double seconds, double processorSeconds, long cycles) {}

  FrameLoop(StockModel stock, Path data) {
    this.stock = stock;
    this.data = data;
  }

  void build() throws IOException {
    stock.build(NAME, code());
  }

  Run run(List<OrreryHost.Write> writes) throws IOException {
    ByteBuffer bytes =
        ByteBuffer.allocate(2 * Integer.BYTES * writes.size()).order(ByteOrder.nativeOrder());
    for (OrreryHost.Write write : writes) {
      bytes.putInt(write.address()).putInt((int) write.data());
    }
    Files.write(data, bytes.array());
    String[] words = stock.run(NAME, data.toString());
    return new Run(
        Double.parseDouble(words[0]), Double.parseDouble(words[1]), Long.parseLong(words[2]));
  }

  private String code() {
    return """
    #include "Vstock.h"
    #include "verilated.h"
    #include <chrono>
    #include <cstdint>
    #include <cstdio>
    #include <ctime>
    #include <vector>

    double sc_time_stamp() { return 0; }

    int main(int, char** argv) {
      std::FILE* file = std::fopen(argv[1], "rb");
      std::vector<uint32_t> writes;
      uint32_t value;
      while (std::fread(&value, sizeof value, 1, file) == 1) writes.push_back(value);
      std::fclose(file);
      Vstock* top = new Vstock{new VerilatedContext};
      uint64_t sum = 0;
      uint64_t cycles = 0;
      const std::clock_t used = std::clock();
      const auto start = std::chrono::steady_clock::now();
      top->rst = 1;
      for (int i = 0; i < 3; ++i) {
        top->clk = 0;
        top->eval();
        top->clk = 1;
        top->eval();
      }
      top->rst = 0;
      top->bus_write = 1;
      std::size_t next = 0;
      for (bool over = false; !over;) {
        top->bus_valid = next < writes.size();
        top->bus_address = top->bus_valid ? writes[next] : 0;
        top->bus_wdata = top->bus_valid ? writes[next + 1] : 0;
        top->clk = 0;
        top->eval();
        over = !top->bus_valid && top->irq;
        if (top->bus_valid && top->bus_ready) next += 2;
    FOLD    top->clk = 1;
        top->eval();
        ++cycles;
      }
      const std::chrono::duration<double> time = std::chrono::steady_clock::now() - start;
      const double processor = static_cast<double>(std::clock() - used) / CLOCKS_PER_SEC;
      std::printf("%.9f %.9f %llu %llu\\n", time.count(), processor,
                  static_cast<unsigned long long>(cycles), static_cast<unsigned long long>(sum));
      return 0;
    }
    """
        .replace("FOLD", stock.fold());
  }
}
