#include "Vedges.h"

#include "reference.h"

int main(int, char** arguments) {
  return bench<Vedges>(arguments, [](Vedges& top, uint64_t cycle) {
    top.rst_n = cycle >= 8;
    in(top.other_clk, 1);
    in(top.enable, 1);
    in(top.d, 8);
    top.clk = 0;
    top.eval();
    out(top.rising, 8);
    out(top.falling, 8);
    out(top.both, 4);
    out(top.latched, 8);
    out(top.other, 8);
    out(top.read, 8);
    out(top.unknown, 8);
    out(top.clock_itself, 1);
    top.clk = 1;
    top.eval();
  });
}
