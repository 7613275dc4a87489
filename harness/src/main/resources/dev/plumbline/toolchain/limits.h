// Read before anything of Verilator's. Its division keeps operands in arrays of a fixed number of
// 32-bit words, 512 bits of them, and does not look whether they fit: beyond, quotients are wrong
// and then the stack is. Nothing but stack is spent by a larger number, and a call has 256 MB of it.
#ifndef PLUMB_LIMITS_H
#define PLUMB_LIMITS_H

#include "verilatedos.h"

#undef VL_MULS_MAX_WORDS
#define VL_MULS_MAX_WORDS 4096

#endif
