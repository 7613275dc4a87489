#include "Vshapes.h"

#include "reference.h"

int main(int, char** arguments) {
  return bench<Vshapes>(arguments, [](Vshapes& top, uint64_t) {
    in(top.point, 27);
    in(top.narrow, 5);
    for (int i = 0; i < 2; ++i) in_wide(top.ascending[i], 70);
    for (int i = 0; i < 2; ++i) in(top.descending[i], 9);
    for (int i = 0; i < 2; ++i)
      for (int j = 0; j < 3; ++j) in(top.grid[i][j], 4);
    in_wide(top.wide, 129);
    in(top.word__02e64, 64);
    in(top.count, 32);
    top.clk = 0;
    top.eval();
    out(top.moved, 27);
    out(top.extended, 40);
    for (int i = 0; i < 2; ++i) out_wide(top.swapped[i], 70);
    for (int i = 0; i < 2; ++i) out(top.shifted[i], 9);
    for (int j = 0; j < 3; ++j)
      for (int i = 0; i < 2; ++i) out(top.turned[j][i], 4);
    out_wide(top.mixed, 200);
    out(top.sum__05b64__05d, 64);
    out(top.product, 64);
    top.clk = 1;
    top.eval();
  });
}
