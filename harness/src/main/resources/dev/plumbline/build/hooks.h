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

// $fdisplay and its kin take the streams by these names.
#undef stdin
#undef stdout
#undef stderr
#define stdin plumb_standard_file(0)
#define stdout plumb_standard_file(1)
#define stderr plumb_standard_file(2)

// Verilator keeps the state of $random for each thread and seeds all threads again whenever any
// model is seeded, so models side by side change each other's streams. runtime.cpp defines the
// same functions with a state for each model; a weak definition gives way to them. The names are
// mangled since class members cannot be declared twice; a pragma for a function that a version
// does not have does nothing.
#pragma weak _Z9vl_rand64v                            // 5.006
#pragma weak _ZN5VlRNG20vl_thread_rng_rand64Ev        // 5.032
#pragma weak _ZN5VlRNG21vl_current_rng_rand64Ev       // 5.048
#pragma weak _ZN5VlRNG13vl_thread_rngEv               // 5.032 on: objects' own generators
#pragma weak _Z19VL_RANDOM_SEEDED_IIRj                // $random(seed)
#pragma weak _Z20VL_URANDOM_SEEDED_IIj                // $urandom(seed)

#endif
