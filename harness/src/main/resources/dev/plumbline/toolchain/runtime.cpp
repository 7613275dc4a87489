// Compiled once for each tool chain and linked into every model: what takes the place of
// Verilator's ways to end or to spoil a process, and the calls that are the same for all models.
#include "plumb.h"

#include <sys/mman.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cstdarg>
#include <cstdio>
#include <cstdlib>
#include <cstring>
#include <fstream>
#include <mutex>
#include <new>
#include <stdexcept>
#include <vector>

extern "C" int plumb_printf(const char* format, ...) __attribute__((format(printf, 1, 2)));
extern "C" FILE* plumb_standard_file(int descriptor);
extern "C" int __real_system(const char* command);
extern "C" FILE* __real_fopen(const char* name, const char* mode);
extern "C" int __real_fclose(FILE* file);
extern "C" int __real_fseek(FILE* file, long offset, int origin);
extern "C" long __real_ftell(FILE* file);

// Verilator 5.006 prints $fatal, $error and failed assertions alike, and later ones $fatal of an
// assertion like any other; the design says which of them stands at a place: 0 an assertion,
// 1 $error, 2 $fatal, 3 untold (class Ends).
int plumb_end_at(const char* file, int line);

namespace plumb {
namespace {

__thread Handle* current = nullptr;
__thread const char* stack_in_use = nullptr;

bool isolated = false;  // in a process of its own

// What a hook throws to leave the generated code; guarded() turns it into a status.
struct End final {
  Status status;
  std::string file;
  int line;
  std::string message;
};

void copy(char* to, size_t size, const std::string& from) {
  const size_t length = std::min(size - 1, from.size());
  std::memcpy(to, from.data(), length);
  to[length] = 0;
}

void record(Control& control, const End& end) {
  control.line = end.line;
  copy(control.file, sizeof control.file, end.file);
  copy(control.message, sizeof control.message, end.message);
}

// Without asking for memory, since there is none.
void record_no_memory(Control& control) {
  struct rlimit limit {};
  getrlimit(RLIMIT_AS, &limit);
  control.line = 0;
  control.file[0] = 0;
  char allowed[128] = "what this process has. Bound what grows";
  if (limit.rlim_cur != RLIM_INFINITY) {
    std::snprintf(allowed, sizeof allowed,
                  "%llu MB for the process of a model. Bound what grows, or allow more by "
                  "DutOptions.withMemory",
                  static_cast<unsigned long long>(limit.rlim_cur >> 20));
  }
  std::snprintf(control.message, sizeof control.message,
                "no memory is left, as by a string, queue or array that grows without end; allowed "
                "is %s",
                allowed);
}

// ---- Stacks

// A Java thread has about 1 MB of stack, and a design may have local arrays larger than that,
// which would end the JVM. Pages that are never touched cost address space only.
constexpr size_t kStackBytes = size_t{256} << 20;
constexpr size_t kGuardBytes = size_t{64} << 10;

std::mutex stacks_mutex;
std::vector<char*> stacks;  // at rest; as many exist as calls were ever under way at once

char* take_stack() {
  {
    const std::lock_guard<std::mutex> lock{stacks_mutex};
    if (!stacks.empty()) {
      char* const stack = stacks.back();
      stacks.pop_back();
      return stack;
    }
  }
  void* const memory = mmap(nullptr, kStackBytes, PROT_READ | PROT_WRITE,
                            MAP_PRIVATE | MAP_ANONYMOUS | MAP_NORESERVE, -1, 0);
  if (memory == MAP_FAILED) return nullptr;
  mprotect(memory, kGuardBytes, PROT_NONE);
#ifdef MADV_NOHUGEPAGE
  madvise(memory, kStackBytes, MADV_NOHUGEPAGE);  // or the first touch commits 2 MB
#endif
  return static_cast<char*>(memory);
}

void give_stack(char* stack) {
  const std::lock_guard<std::mutex> lock{stacks_mutex};
  stacks.push_back(stack);
}

// Calls function(argument) with the stack pointer at top. No exception may leave the function.
void call_on(char* top, void (*function)(void*), void* argument) {
#if defined(__x86_64__)
  // rbx survives the call and keeps the old stack pointer; all that a call may change is listed.
  register void (*f)(void*) __asm__("rax") = function;
  register void* a __asm__("rdi") = argument;
  register char* t __asm__("rsi") = top;
  __asm__ volatile(
      "movq %%rsp, %%rbx\n\t"
      "movq %[t], %%rsp\n\t"
      "callq *%[f]\n\t"
      "movq %%rbx, %%rsp"
      : [f] "+r"(f), "+r"(a), [t] "+r"(t)
      :
      : "rbx", "rcx", "rdx", "r8", "r9", "r10", "r11", "memory", "cc", "xmm0", "xmm1", "xmm2",
        "xmm3", "xmm4", "xmm5", "xmm6", "xmm7", "xmm8", "xmm9", "xmm10", "xmm11", "xmm12", "xmm13",
        "xmm14", "xmm15");
#elif defined(__aarch64__)
  register void (*f)(void*) __asm__("x9") = function;
  register void* a __asm__("x0") = argument;
  register char* t __asm__("x10") = top;
  __asm__ volatile(
      "mov x19, sp\n\t"
      "mov sp, %[t]\n\t"
      "blr %[f]\n\t"
      "mov sp, x19"
      : [f] "+r"(f), "+r"(a), [t] "+r"(t)
      :
      : "x1", "x2", "x3", "x4", "x5", "x6", "x7", "x8", "x11", "x12", "x13", "x14", "x15", "x16",
        "x17", "x19", "x30", "memory", "cc", "v0", "v1", "v2", "v3", "v4", "v5", "v6", "v7", "v8",
        "v9", "v10", "v11", "v12", "v13", "v14", "v15", "v16", "v17", "v18", "v19", "v20", "v21",
        "v22", "v23", "v24", "v25", "v26", "v27", "v28", "v29", "v30", "v31");
#else
  static_cast<void>(top);
  function(argument);
#endif
}

// ---- Calls

struct Call final {
  void (*body)(void*);
  void* argument;
  Control* control;
  int status;
};

void run(void* argument) {
  Call& call = *static_cast<Call*>(argument);
  try {
    call.body(call.argument);
  } catch (const End& end) {
    record(*call.control, end);
    call.status = end.status;
  } catch (const std::bad_alloc&) {
    record_no_memory(*call.control);
    call.status = INTERNAL;
  } catch (const std::length_error&) {
    record_no_memory(*call.control);  // more than any machine has
    call.status = INTERNAL;
  } catch (const std::exception& e) {
    record(*call.control, End{INTERNAL, "", 0, e.what()});
    call.status = INTERNAL;
  } catch (...) {
    record(*call.control, End{INTERNAL, "", 0, "an exception of unknown type"});
    call.status = INTERNAL;
  }
}

// What the model printed just before it ended, if that names the same place: $error, $fatal and
// failed assertions print first and stop then, with nothing else to tell them from $stop.
std::string printed_at(const Handle& handle, const char* file, int line, bool& fatal) {
  const std::string& printed = handle.text.latest();
  const char* const slash = std::strrchr(file, '/');
  const std::string name{slash ? slash + 1 : file};  // the text has no folders
  const std::string place = name + ":" + std::to_string(line) + ": ";
  size_t at = printed.find("%Error: " + place);
  fatal = at == std::string::npos;
  if (fatal) at = printed.find("%Fatal: " + place);
  if (at == std::string::npos) return "";
  std::string message = printed.substr(printed.find(place, at) + place.size());
  while (!message.empty() && message.back() == '\n') message.pop_back();
  // Verilator says this of every $error, whether an assertion failed or not.
  const std::string noise = "Assertion failed in ";
  if (message.compare(0, noise.size(), noise) == 0) {
    const size_t colon = message.find(": ", noise.size());
    if (colon != std::string::npos) {
      message = message.substr(colon + 2) + " (in " +
                message.substr(noise.size(), colon - noise.size()) + ")";
    }
  }
  return message;
}

std::string line_of(const char* file, int line) {
  std::ifstream source{file};
  std::string text;
  for (int i = 0; i < line; ++i) {
    if (!std::getline(source, text)) return "";
  }
  const size_t begin = text.find_first_not_of(" \t");
  const size_t end = text.find_last_not_of(" \t\r");
  return begin == std::string::npos ? "" : text.substr(begin, end + 1 - begin);
}

}  // namespace

std::atomic<int> cancels{0};

void require_at_most(int64_t limit, int64_t value, const char* what) {
  if (value > limit) {
    throw End{INTERNAL, "", 0,
              std::to_string(value) + " " + what + "; allowed is at most " + std::to_string(limit)};
  }
}

bool poll_cancelled() {
  // Progress since then means that this is not the call, or no longer the row, that was stuck.
  if (current && current->control.cancelled.load() == current->progress) {
    throw End{CANCELLED, "", 0, ""};
  }
  return true;
}

int guarded(Handle& handle, void (*body)(void*), void* argument) {
  Control& control = handle.control;
  Call call{body, argument, &control, OK};
  char* const stack = take_stack();
  if (!stack) {
    record(control, End{INTERNAL, "", 0, "no address space left for a stack of 256 MB"});
    return INTERNAL;
  }
  current = &handle;
  stack_in_use = stack;
  // The runtime keeps a context for each thread and uses it in $finish, $time and destructors.
  Verilated::threadContextp(&handle.context);
  control.progress.store(++handle.progress, std::memory_order_relaxed);
  control.active.store(1, std::memory_order_relaxed);
  call_on(stack + kStackBytes, run, &call);
  control.active.store(0, std::memory_order_relaxed);
  current = nullptr;
  stack_in_use = nullptr;
  if (control.cancelled.exchange(0) != 0) --cancels;
  give_stack(stack);
  if (call.status == OK && handle.finished) return FINISH;
  return call.status;
}

// ---- Text

void Text::append(const char* from, size_t length) {
  constexpr size_t kKept = size_t{64} << 10;
  latest_.assign(from, std::min(length, kKept));
  text_.append(from, length);
  if (text_.size() > 2 * kKept) {
    dropped_ += text_.size() - kKept;
    text_.erase(0, text_.size() - kKept);
  }
}

size_t Text::copy(char* to, size_t size) const {
  size_t head = 0;
  if (dropped_ != 0 && size > 128) {
    head = std::snprintf(to, 128, "[%llu bytes before this were not kept]\n",
                         static_cast<unsigned long long>(dropped_));
  }
  const size_t length = std::min(text_.size(), size - head);
  std::memcpy(to + head, text_.data() + text_.size() - length, length);
  return head + length;
}

// ---- Handle

Handle::Handle(Control& shared, uint64_t seed_value, int initial_state, int flags,
               const char* texts)
    : control{shared}, flags_{flags} {
  // 5.006 would start a pool of threads for each context.
  context.threads(1);
  // Verilator takes 0 for "choose one by yourself".
  seed(seed_value);
  const int narrow = static_cast<int>(random_[0] >> 33);
  context.randSeed(narrow == 0 ? 1 : narrow);
  context.randReset(initial_state);
  // Without any, $test$plusargs would end the model instead of answering no.
  std::vector<const char*> arguments{"plumbline"};
  for (; *texts; texts += std::strlen(texts) + 1) {
    if (*texts == '+') {
      arguments.push_back(texts);
    } else {
      folders_.push_back(texts);
    }
  }
  context.commandArgs(static_cast<int>(arguments.size()), arguments.data());
}

Handle::~Handle() {
  for (FILE* stream : streams_) {
    if (stream) __real_fclose(stream);
  }
  // Verilator leaves them open, and what is still in their buffers unwritten, until the JVM ends.
  for (FILE* file : files_) __real_fclose(file);
}

std::string Handle::found(const char* name) const {
  struct stat status;
  if (*name != '/' && stat(name, &status) != 0) {
    for (const std::string& folder : folders_) {
      const std::string there = folder + "/" + name;
      if (stat(there.c_str(), &status) == 0) return there;
    }
  }
  return name;
}

std::string Handle::looked_in() const {
  char working[4096];
  std::string all{". Looked in "};
  all += getcwd(working, sizeof working) ? working : "the working folder";
  for (const std::string& folder : folders_) all += ", " + folder;
  return all + "; more folders are named by DutOptions.withFolders";
}

void Handle::seed(uint64_t seed) {
  // SplitMix64 (Steele, Lea, Flood 2014) spreads the seed over the state and never gives two zeros.
  for (uint64_t& word : random_) {
    seed += 0x9E3779B97F4A7C15ULL;
    uint64_t z = seed;
    z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9ULL;
    z = (z ^ (z >> 27)) * 0x94D049BB133111EBULL;
    word = z ^ (z >> 31);
  }
}

uint64_t Handle::random() {
  // xoroshiro128+ with the constants of 2018 (Blackman, Vigna).
  const auto rotate = [](uint64_t x, int k) { return (x << k) | (x >> (64 - k)); };
  const uint64_t result = random_[0] + random_[1];
  const uint64_t mixed = random_[0] ^ random_[1];
  random_[0] = rotate(random_[0], 24) ^ mixed ^ (mixed << 16);
  random_[1] = rotate(mixed, 37);
  return result;
}

FILE* Handle::stream(int descriptor) {
  FILE*& stream = streams_[descriptor];
  if (!stream) {
    cookie_io_functions_t functions{};
    functions.write = [](void* cookie, const char* from, size_t length) -> ssize_t {
      static_cast<Handle*>(cookie)->text.append(from, length);
      return static_cast<ssize_t>(length);
    };
    stream = fopencookie(this, descriptor == 0 ? "r" : "w", functions);
    if (stream) setvbuf(stream, nullptr, _IONBF, 0);
  }
  return stream;
}

}  // namespace plumb

// ---- What takes the place of Verilator's own

using plumb::current;

void vl_finish(const char* file, int line, const char*) {
  if (!current || current->finished) return;
  current->finished = true;
  current->context.gotFinish(true);
  plumb::record(current->control, plumb::End{plumb::FINISH, file, line, ""});
}

void vl_stop(const char* file, int line, const char*) {
  bool fatal = false;
  std::string message = plumb::printed_at(*current, file, line, fatal);
  plumb::Status status = plumb::STOP;
  if (!message.empty()) {
    const plumb::Status kEnds[] = {plumb::ASSERTION, plumb::ERROR, plumb::FATAL,
                                   fatal ? plumb::FATAL : plumb::ASSERTION};
    status = kEnds[plumb_end_at(file, line)];
    if (status == plumb::ASSERTION) message += ": " + plumb::line_of(file, line);
  }
  if (status == plumb::ERROR && current->has(plumb::CONTINUE_ON_ERROR)) {
    ++current->control.errors;
    return;
  }
  throw plumb::End{status, file, line, message};
}

// Names the file that is not there, and says where it was looked for.
static void with_folders(std::string& text, const char* file) {
  const size_t end = text.find(" not found");
  if (end == std::string::npos) return;
  text.insert(end, std::string{" "} + file);
  if (text.back() == '.') text.pop_back();
  text += current->looked_in();
}

void vl_fatal(const char* file, int line, const char*, const char* message) {
  std::string text{message};
  plumb::Status status = plumb::FATAL;
  if (text.find("did not converge") != std::string::npos) {
    status = plumb::NOT_SETTLED;
    if (!text.empty() && text.back() == '.') text.pop_back();
    text +=
        ". It is a loop in the logic, or one through a delay: delays in the source are ignored, so "
        "that \"always #5 clk = ~clk\" is such a loop. Break it, or make that clock an input";
  }
  if (text.find("$readmem") != std::string::npos) {
    status = plumb::MEMORY_FILE;
    with_folders(text, file);
  }
  throw plumb::End{status, file, line, text};
}

void vl_warn(const char* file, int line, const char*, const char* message) {
  std::string text{message};
  if (text.find("$readmem") != std::string::npos) with_folders(text, file);
  if (text.find("$readmem") != std::string::npos && !current->has(plumb::MISSING_MEMORY_FILES)) {
    throw plumb::End{plumb::MEMORY_FILE, file, line, text};
  }
  plumb_printf("%%Warning: %s:%d: %s\n", file, line, text.c_str());
}

extern "C" int plumb_printf(const char* format, ...) {
  if (!current) return 0;
  va_list arguments;
  va_start(arguments, format);
  int length;
  if (std::strcmp(format, "%s") == 0) {  // nearly always, and of any length
    const char* const text = va_arg(arguments, const char*);
    length = static_cast<int>(std::strlen(text));
    current->text.append(text, std::strlen(text));
  } else {
    char text[2048];
    length = std::vsnprintf(text, sizeof text, format, arguments);
    if (length > 0) current->text.append(text, std::min<size_t>(length, sizeof text - 1));
  }
  va_end(arguments);
  return length;
}

extern "C" FILE* plumb_standard_file(int descriptor) {
  return current ? current->stream(descriptor) : nullptr;
}

// The linker sends every call of system() here (--wrap=system).
extern "C" int __wrap_system(const char* command) {
  if (current && current->has(plumb::SYSTEM_CALLS)) return __real_system(command);
  plumb_printf("$system(\"%s\") was not run: system calls are not allowed\n", command);
  return -1;
}

// The same for files, so that those a model leaves open are closed with it. To open or to read a
// pipe that nobody writes would never end, and nothing could cancel it.
extern "C" FILE* __wrap_fopen(const char* name, const char* mode) {
  const std::string there = current && *mode == 'r' ? current->found(name) : name;
  name = there.c_str();
  struct stat status;
  if (current && !plumb::isolated && stat(name, &status) == 0 && !S_ISREG(status.st_mode) &&
      !S_ISDIR(status.st_mode) && std::strcmp(name, "/dev/null") != 0) {
    plumb_printf("%s was not opened: it is no regular file; see DutOptions.withIsolated\n", name);
    errno = EINVAL;
    return nullptr;
  }
  FILE* const file = __real_fopen(name, mode);
  if (file && current) current->opened(file);
  return file;
}

// Verilator looks at descriptors that were never opened, or are closed, and finds no file there.
extern "C" int __wrap_fclose(FILE* file) {
  if (!file) return EOF;
  if (current) current->closed(file);
  return __real_fclose(file);
}

extern "C" int __wrap_fseek(FILE* file, long offset, int origin) {
  return file ? __real_fseek(file, offset, origin) : -1;
}

extern "C" long __wrap_ftell(FILE* file) { return file ? __real_ftell(file) : -1; }

// Verilator's own put text of any length into 256 bytes.
std::string VL_CVT_PACK_STR_NW(int words, const WDataInP from) {
  std::string text;
  for (int i = 4 * words - 1; i >= 0; --i) {
    const char character = static_cast<char>(from[i / 4] >> (8 * (i % 4)));
    if (character) text += character;
  }
  return text;
}

// Verilator's own goes bit by bit over all digits so far: seconds for 8,192 bits.
std::string VL_DECIMAL_NW(int width, const WDataInP from) {
  constexpr uint32_t kBillion = 1'000'000'000;
  std::vector<uint32_t> rest(from, from + (width + 31) / 32);
  if (width % 32 != 0) rest.back() &= (uint32_t{1} << (width % 32)) - 1;
  std::string reversed;
  while (!rest.empty()) {
    uint64_t remainder = 0;
    for (size_t i = rest.size(); i-- > 0;) {
      const uint64_t part = remainder << 32 | rest[i];
      rest[i] = static_cast<uint32_t>(part / kBillion);
      remainder = part % kBillion;
    }
    for (int i = 0; i < 9; ++i, remainder /= 10) reversed += static_cast<char>('0' + remainder % 10);
    while (!rest.empty() && rest.back() == 0) rest.pop_back();
  }
  while (reversed.size() > 1 && reversed.back() == '0') reversed.pop_back();
  return reversed.empty() ? "0" : std::string{reversed.rbegin(), reversed.rend()};
}

// Verilator keeps the state of $random for each thread and seeds all threads again whenever any
// model is seeded, so models side by side change each other's streams. These are the same functions
// with a state for each model. The linker is set to take the first of several definitions, and
// this file comes before Verilator's own. (A weak definition there would say it better, but g++ 14
// does not take "#pragma weak" for members of a class.)
// PLUMB_RANDOM says which functions this version's headers have (class Toolchain looks).
#if PLUMB_RANDOM == 0
uint64_t vl_rand64() { return current->random(); }
#else
uint64_t VlRNG::vl_thread_rng_rand64() { return current->random(); }
VlRNG& VlRNG::vl_thread_rng() {
  // Only seeds the generators of objects, each a copy: a new one for each from the model's own.
  static thread_local VlRNG generator{0};
  generator.srandom(current->random());
  return generator;
}
#if PLUMB_RANDOM == 2
uint64_t VlRNG::vl_current_rng_rand64() { return current->random(); }
#endif
#endif

// As in Verilator: the seed starts the stream again, and the next value is the new seed.
IData VL_RANDOM_SEEDED_II(IData& seed) {
  current->seed(seed);
  seed = static_cast<IData>(current->random());
  return static_cast<IData>(current->random());
}

IData VL_URANDOM_SEEDED_II(IData seed) {
  current->seed(seed);
  return static_cast<IData>(current->random());
}

// 5.048 draws the initial state by scope and name, the same for all words of a memory, so that two
// words in the wrong order would not show. One draw a word instead; unused before that version.
IData VL_SCOPED_RAND_RESET_I(int obits, uint64_t, uint64_t) { return VL_RAND_RESET_I(obits); }

QData VL_SCOPED_RAND_RESET_Q(int obits, uint64_t, uint64_t) { return VL_RAND_RESET_Q(obits); }

WDataOutP VL_SCOPED_RAND_RESET_W(int obits, WDataOutP outwp, uint64_t, uint64_t) {
  return VL_RAND_RESET_W(obits, outwp);
}

// ---- Calls that are the same for all models

extern "C" {

// Ends the call under way at its next turn of a loop, unless it has made progress since.
void plumb_cancel(plumb::Control* control, int64_t progress) {
  if (control->cancelled.exchange(progress) == 0) ++plumb::cancels;
}

// Copies the newest part of what was printed that fits, and says how long the copy is.
int64_t plumb_text(plumb::Handle* handle, char* to, int64_t size) {
  return static_cast<int64_t>(handle->text.copy(to, static_cast<size_t>(size)));
}

// Says that this process belongs to one model, which may then wait for pipes.
void plumb_isolate() { plumb::isolated = true; }

// Writes down what is known as a signal ends the process: allocates nothing.
void plumb_crashed(plumb::Control* control, const char* address, char* to, int64_t size) {
  const char* const stack = plumb::stack_in_use;
  if (stack && address >= stack && address < stack + plumb::kGuardBytes) {
    std::strcpy(control->message, "its stack of 256 MB is full, as by a recursion without end");
  }
  if (plumb::current) {
    control->reported = static_cast<int64_t>(plumb::current->text.copy(to, static_cast<size_t>(size)));
  }
}

}
