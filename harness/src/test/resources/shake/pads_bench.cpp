#include "Vpads.h"

#include "reference.h"

int main(int, char** arguments) {
  return bench<Vpads>(arguments, [](Vpads& top, uint64_t) {
    in(top.d, 8);
    in(top.drive, 1);
    top.eval();
    out(top.sum, 9);
    out(top.pad, 8);
    out(top.one, 1);
    out(top.back, 8);
  });
}
