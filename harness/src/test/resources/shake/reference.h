// A bench of its own for each design here: plain C++ over what `verilator --cc --exe --build`
// makes, the digest taken from its definition (plumbline shake --help), the ports by hand. The
// digests in ShakeTest are what these print. To have one again, in this folder:
//
//   verilator --cc --exe --build --no-timing --x-assign 0 -Wno-fatal --Mdir /tmp/bench -o bench
//       --top-module shapes shapes.sv $PWD/shapes_bench.cpp && /tmp/bench/bench 2000 42
#include <cstdint>
#include <cstdio>
#include <cstdlib>

#include "verilated.h"

static uint64_t state;
static uint64_t hash = 0xCBF29CE484222325;

static uint64_t mask(int bits) { return bits == 64 ? ~0ull : (1ull << bits) - 1; }

static uint64_t draw() {
  uint64_t z = state += 0x9E3779B97F4A7C15;
  z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9;
  z = (z ^ (z >> 27)) * 0x94D049BB133111EB;
  return z ^ (z >> 31);
}

static void fold(uint64_t word) {
  for (int byte = 0; byte < 8; ++byte) hash = (hash ^ (word >> 8 * byte & 0xFF)) * 0x100000001B3;
}

// Up to 64 bits, and wider ones as Verilator keeps them: 32-bit parts, lowest first.
template <class Port>
void in(Port& port, int bits) {
  port = static_cast<Port>(draw() & mask(bits));
}

template <class Port>
void out(Port port, int bits) {
  fold(static_cast<uint64_t>(port) & mask(bits));
}

template <class Parts>
void in_wide(Parts& parts, int bits) {
  for (int part = 0; bits > 0; part += 2, bits -= 64) {
    const uint64_t word = draw() & mask(bits < 64 ? bits : 64);
    parts[part] = static_cast<uint32_t>(word);
    if (bits > 32) parts[part + 1] = static_cast<uint32_t>(word >> 32);
  }
}

template <class Parts>
void out_wide(const Parts& parts, int bits) {
  for (int part = 0; bits > 0; part += 2, bits -= 64) {
    uint64_t word = parts[part];
    if (bits > 32) word |= static_cast<uint64_t>(parts[part + 1]) << 32;
    fold(word & mask(bits < 64 ? bits : 64));
  }
}

// Runs cycle(top, number of the cycle) and prints the digest.
template <class Top, class Cycle>
int bench(char** arguments, Cycle cycle) {
  const uint64_t cycles = strtoull(arguments[1], nullptr, 0);
  state = strtoull(arguments[2], nullptr, 0);
  VerilatedContext context;
  context.randReset(0);
  Top top{&context};
  uint64_t ran = 0;
  while (ran < cycles && !context.gotFinish()) cycle(top, ran++);
  printf("digest %016llx cycles %llu\n", static_cast<unsigned long long>(hash),
         static_cast<unsigned long long>(ran));
  return 0;
}
