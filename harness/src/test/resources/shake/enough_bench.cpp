#include "Venough.h"

#include "reference.h"

int main(int, char** arguments) {
  return bench<Venough>(arguments, [](Venough& top, uint64_t) {
    in(top.d, 8);
    top.clk = 0;
    top.eval();
    out(top.count, 16);
    out(top.q, 8);
    top.clk = 1;
    top.eval();
  });
}
