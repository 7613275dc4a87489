// What a model's own translation unit and the run-time support (runtime.cpp) share.
#ifndef PLUMB_H
#define PLUMB_H

#include "limits.h"
#include "verilated.h"

#include <atomic>
#include <cstddef>
#include <cstdint>
#include <cstdio>
#include <set>
#include <string>
#include <type_traits>
#include <utility>
#include <vector>

// A constant of more than eight words is put together from its topmost piece and those below.
// Verilator's own function for the topmost clears as many words beyond it as lie below it too many:
// it writes outside of the number, and leaves its own topmost words as they were.
template <class... Words>
inline WDataOutP plumb_constant_top(int bits, int lsb, WDataOutP number, Words... from_top) {
  constexpr int count = sizeof...(from_top);
  const EData words[] = {static_cast<EData>(from_top)...};
  int at = VL_WORDS_I(lsb);
  for (int i = count - 1; i >= 0; --i) {
    number[at++] = words[i];
  }
  for (; at < VL_WORDS_I(bits); ++at) {
    number[at] = 0;
  }
  return number + VL_WORDS_I(lsb);
}

#define VL_CONSTHI_W_1X plumb_constant_top
#define VL_CONSTHI_W_2X plumb_constant_top
#define VL_CONSTHI_W_3X plumb_constant_top
#define VL_CONSTHI_W_4X plumb_constant_top
#define VL_CONSTHI_W_5X plumb_constant_top
#define VL_CONSTHI_W_6X plumb_constant_top
#define VL_CONSTHI_W_7X plumb_constant_top
#define VL_CONSTHI_W_8X plumb_constant_top

namespace plumb {

// How a call ended; Java knows the same numbers (class ControlBlock).
enum Status : int {
  OK = 0,
  FINISH = 1,
  STOP = 2,
  ERROR = 3,
  FATAL = 4,
  ASSERTION = 5,
  NOT_SETTLED = 6,
  MEMORY_FILE = 7,
  CANCELLED = 8,
  INTERNAL = 9,
  CRASHED = 10,  // reported by Java alone: a process of its own is gone
};

// Memory that Java allocates and that outlives the model, so that Java may read it at any time,
// also from its watchdog thread while a call is under way. Class ControlBlock has the same layout.
struct Control {
  std::atomic<int64_t> active;     // 1 while a call is under way
  std::atomic<int64_t> progress;   // grows with every call and row: no growth means a hang
  std::atomic<int64_t> cancelled;  // the progress at which a call shall end, or 0
  int64_t cycles;                  // rows completed since the model was opened
  int64_t rows;                    // rows completed in the latest call
  int64_t accepted;                // the next case of a stream call, before it and afterwards
  int64_t errors;                  // $error calls passed over in keep-going mode
  int64_t line;                    // where the model ended
  char file[1024];
  char message[4096];
  int64_t reported;  // bytes of text that plumb_crashed left
};

// A run on random inputs of which a digest is kept. Class DigestRun says what it is, and has the
// same layout.
struct DigestRun final {
  uint64_t state;
  uint64_t digest;
  int8_t held[1];  // as many as there are columns: 1 at the first of an input that is not drawn
};

// Bits of plumb_open's flags.
enum Flag : int { CONTINUE_ON_ERROR = 1, SYSTEM_CALLS = 2, MISSING_MEMORY_FILES = 4 };

// Text that a model printed: the newest 64 to 128 KiB of it.
class Text final {
 public:
  void append(const char* from, size_t length);
  // Copies the newest part that fits; says how long the copy is. Allocates nothing.
  size_t copy(char* to, size_t size) const;
  const std::string& latest() const { return latest_; }

 private:
  std::string text_;
  std::string latest_;  // the latest piece: an error's message comes just before its end
  uint64_t dropped_ = 0;
};

// One open model: everything but the generated class.
class Handle {
 public:
  // The texts are one after the other, each with its end, and an empty one last: plusargs with
  // their plus, and the absolute names of folders in which files to be read are looked for.
  Handle(Control& control, uint64_t seed, int initial_state, int flags, const char* texts);
  Handle(const Handle&) = delete;
  Handle& operator=(const Handle&) = delete;
  virtual ~Handle();

  bool has(Flag flag) const { return (flags_ & flag) != 0; }
  FILE* stream(int descriptor);
  // Where a file to be read is: the name itself, or that in the first folder that has it.
  std::string found(const char* name) const;
  std::string looked_in() const;
  uint64_t random();
  void seed(uint64_t seed);
  void opened(FILE* file) { files_.insert(file); }
  void closed(FILE* file) { files_.erase(file); }

  // One more row is complete.
  void tick() {
    ++control.rows;
    ++control.cycles;
    control.progress.store(++progress, std::memory_order_relaxed);
  }

  Control& control;
  VerilatedContext context;
  Text text;
  int64_t progress = 0;
  bool finished = false;

 private:
  const int flags_;
  uint64_t random_[2];
  FILE* streams_[3] = {nullptr, nullptr, nullptr};
  std::vector<std::string> folders_;
  std::set<FILE*> files_;  // those that the model has not closed yet
};

// Runs body(argument) as the given model's: with its context, on a stack large enough for big
// local arrays, every exception turned into a status. Everything that touches a model goes
// through here.
int guarded(Handle& handle, void (*body)(void*), void* argument);

template <class Body>
int guarded(Handle& handle, Body body) {
  return guarded(
      handle, [](void* argument) { (*static_cast<Body*>(argument))(); }, &body);
}

// Ends the model for a size that the run-time library would not survive.
void require_at_most(int64_t limit, int64_t value, const char* what);

constexpr int kDivisionBits = VL_MULS_MAX_WORDS * 32;

// Bits of a division's operands, if they are not too many.
inline int divisible(int bits) {
  require_at_most(kDivisionBits, bits, "bits in a division");
  return bits;
}

// Verilator reads a word of text into a buffer of 8,192 characters; it refuses packed texts that
// are longer by itself, but not strings.
constexpr int kScannedBytes = 8191;

inline const std::string& scannable(const std::string& text) {
  require_at_most(kScannedBytes, static_cast<int64_t>(text.size()), "characters to $sscanf");
  return text;
}

// How many cancelled calls have not ended yet, over all models of this library; nearly always 0.
extern std::atomic<int> cancels __attribute__((visibility("hidden")));

// Throws when the current model's call is cancelled; always true, so that it fits a condition.
bool poll_cancelled();

// Called in every loop of the generated code: a loop that never ends can be cancelled.
inline bool poll() {
  return __builtin_expect(cancels.load(std::memory_order_relaxed) == 0, 1) || poll_cancelled();
}

// Whether a loop's condition is that of an evaluation which goes on until all has settled: one that
// gives up by itself, and that a small design goes through several times a row.
constexpr bool settles(const char* condition, size_t length) {
  constexpr char kEnding[] = "Continue";
  constexpr size_t kLength = sizeof kEnding - 1;
  const size_t begin = length > 8 && condition[0] == 'v' ? 8 : 0;  // behind "vlSelf->"
  if (length < begin + 3 + kLength) return false;
  for (size_t i = 0; i < kLength; ++i) {
    if (condition[length - kLength + i] != kEnding[i]) return false;
  }
  for (size_t i = begin; i < length; ++i) {
    const char c = condition[i];
    const bool word = (c >= '0' && c <= '9') || (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') ||
                      c == '_';
    if (!word) return false;
  }
  return condition[begin] == '_' && condition[begin + 1] == '_' && condition[begin + 2] == 'V';
}

// Has a value in a register before what follows, so that it is not read behind a branch.
template <class T>
inline void have(T& value) {
  if (!__builtin_constant_p(value)) asm("" : "+r"(value));
}

// One of two values, both of which have been evaluated, without a branch; class Branches says why.
template <class A, class B>
inline auto choose(bool first, const A& a, const B& b) {
  if constexpr (std::is_integral_v<A> && std::is_integral_v<B>) {
    std::common_type_t<A, B> one = a;
    std::common_type_t<A, B> other = b;
    have(one);
    have(other);
    return __builtin_expect_with_probability(first, 1, 0.5) ? one : other;
  } else {
    return first ? a : b;
  }
}

}  // namespace plumb

#define PLUMB_POLLED(...) \
  (std::bool_constant<plumb::settles(#__VA_ARGS__, sizeof(#__VA_ARGS__) - 1)>::value || \
   plumb::poll())

// Calls in generated code that are looked at first; VL_DIV_WWW and VL_MODDIV_WWW are macros that
// end in the first of these.
#define _vl_moddiv_w(bits, ...) _vl_moddiv_w(plumb::divisible(bits), __VA_ARGS__)
#define VL_DIVS_WWW(bits, ...) VL_DIVS_WWW(plumb::divisible(bits), __VA_ARGS__)
#define VL_MODDIVS_WWW(bits, ...) VL_MODDIVS_WWW(plumb::divisible(bits), __VA_ARGS__)
#define VL_SSCANF_INX(bits, text, ...) VL_SSCANF_INX(bits, plumb::scannable(text), __VA_ARGS__)
#define VL_SSCANF_INNX(bits, text, ...) VL_SSCANF_INNX(bits, plumb::scannable(text), __VA_ARGS__)

#endif
