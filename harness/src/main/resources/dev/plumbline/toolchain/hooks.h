// Force-included in front of Verilator's own run-time sources, so that no file of Verilator is
// edited. It sends what they would print to the model it belongs to, and leaves out their handlers
// for $finish, $stop and fatal errors, which end the process; runtime.cpp has ours.
#ifndef PLUMB_HOOKS_H
#define PLUMB_HOOKS_H

#include <cstdint>
#include <cstdio>

extern "C" int plumb_printf(const char* format, ...) __attribute__((format(printf, 1, 2)));
extern "C" FILE* plumb_standard_file(int descriptor);

#define VL_PRINTF plumb_printf
#define VL_USER_FINISH
#define VL_USER_STOP
#define VL_USER_FATAL
#define VL_USER_WARN

#include "limits.h"

// $fdisplay and its kin take the streams by these names.
#undef stdin
#undef stdout
#undef stderr
#define stdin plumb_standard_file(0)
#define stdout plumb_standard_file(1)
#define stderr plumb_standard_file(2)

#endif
