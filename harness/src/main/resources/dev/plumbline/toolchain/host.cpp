// The program around a model that has a process of its own (classes HostProcess and
// IsolatedDesign). Commands come over one pipe and replies go over another; what they are about
// lies in memory that both sides have mapped. It ends as soon as whoever started it is gone.
#include <dlfcn.h>
#include <fcntl.h>
#include <poll.h>
#include <pthread.h>
#include <signal.h>
#include <sys/mman.h>
#include <sys/resource.h>
#include <unistd.h>

#include <cerrno>
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <map>

#include "plumb.h"

namespace {

// Class HostProcess knows the same layout and numbers.
struct Command final {
  int64_t function;
  int64_t arguments[9];
};

struct Reply final {
  int64_t result;
  int64_t descriptor;  // of memory just made
};

enum Function : int64_t {
  MAP = 0,
  UNMAP = 1,
  LOAD = 2,
  OPEN = 3,
  CLOCK = 4,
  FURTHER_CLOCK = 5,
  CYCLE = 6,
  SETTLE = 7,
  RUN = 8,
  STREAM = 9,
  FINAL = 10,
  CLOSE = 11,
  TEXT = 12,
  SIGNALS = 13,
  KEEP = 14,
  RECORD = 15,
  DIGEST = 16,
};

int commands = -1;
int replies = -1;

struct Mapping final {
  int descriptor;
  size_t bytes;
};
std::map<void*, Mapping> mappings;

void* library = nullptr;
plumb::Control* control = nullptr;
char* text = nullptr;
int64_t text_bytes = 0;

void (*cancel)(plumb::Control*, int64_t) = nullptr;
void (*crashed)(plumb::Control*, const char*, char*, int64_t) = nullptr;

template <class Signature>
void find(Signature& function, const char* name) {
  function = reinterpret_cast<Signature>(dlsym(library, name));
  if (!function) {
    std::fprintf(stderr, "%s\n", dlerror());
    _exit(1);
  }
}

template <class Type>
Type* pointer(int64_t address) {
  return reinterpret_cast<Type*>(address);
}

// A call that makes no progress: a loop of the model ends itself now; anything else is killed by
// the next signal.
void on_cancel(int) {
  const int saved = errno;
  if (control && cancel) cancel(control, control->progress.load());
  if (control && crashed) crashed(control, nullptr, text, text_bytes);
  errno = saved;
}

void on_crash(int number, siginfo_t* information, void*) {
  if (control && crashed) {
    crashed(control, static_cast<const char*>(information->si_addr), text, text_bytes);
  }
  raise(number);  // blocked until this returns, and then as it would be without us
}

void catch_signals() {
  static char stack[1 << 16];
  stack_t alternative{};
  alternative.ss_sp = stack;
  alternative.ss_size = sizeof stack;
  sigaltstack(&alternative, nullptr);
  struct sigaction action {};
  action.sa_sigaction = on_crash;
  action.sa_flags = SA_SIGINFO | SA_ONSTACK | SA_RESETHAND;
  for (int number : {SIGSEGV, SIGBUS, SIGFPE, SIGILL, SIGABRT}) {
    sigaction(number, &action, nullptr);
  }
  action = {};
  action.sa_handler = on_cancel;
  action.sa_flags = SA_RESTART | SA_ONSTACK;
  sigaction(SIGTERM, &action, nullptr);
  signal(SIGINT, SIG_IGN);  // meant for whoever started this
  signal(SIGPIPE, SIG_IGN);
}

// Ends this process when the other end of the pipe is closed, also while a call is under way.
void* watch_parent(void*) {
  struct pollfd pipe {};
  pipe.fd = commands;
  while (poll(&pipe, 1, -1) <= 0 || !(pipe.revents & (POLLHUP | POLLERR))) {
  }
  _exit(0);
}

bool transfer(int descriptor, char* at, size_t bytes, bool reading) {
  while (bytes > 0) {
    const ssize_t done = reading ? read(descriptor, at, bytes) : write(descriptor, at, bytes);
    if (done < 0 && errno == EINTR) continue;
    if (done <= 0) return false;
    at += done;
    bytes -= static_cast<size_t>(done);
  }
  return true;
}

Reply map(size_t bytes) {
  const int descriptor = memfd_create("plumbline", MFD_CLOEXEC);
  if (descriptor < 0 || ftruncate(descriptor, static_cast<off_t>(bytes)) != 0) return {0, -1};
  void* const at = mmap(nullptr, bytes, PROT_READ | PROT_WRITE, MAP_SHARED, descriptor, 0);
  if (at == MAP_FAILED) return {0, -1};
  mappings[at] = Mapping{descriptor, bytes};
  return {reinterpret_cast<int64_t>(at), descriptor};
}

void unmap(void* at) {
  const auto found = mappings.find(at);
  if (found == mappings.end()) return;
  munmap(at, found->second.bytes);
  close(found->second.descriptor);
  mappings.erase(found);
}

struct Calls final {
  void* (*open)(plumb::Control*, int64_t*, uint64_t, int, int, const char*);
  void (*clock)(void*, int, int64_t);
  void (*further_clock)(void*, int, int64_t, int64_t);
  int (*cycle)(void*, int64_t);
  int (*settle)(void*);
  int (*run)(void*, int64_t*, int64_t, int64_t);
  int (*stream)(void*, int64_t*, int64_t, int64_t, int64_t, int, int, const int8_t*, int32_t*);
  int (*digest)(void*, plumb::DigestRun*, int64_t);
  int (*final_blocks)(void*);
  void (*close)(void*);
  int64_t (*text)(void*, char*, int64_t);
  void (*isolate)();
  // Of probe builds alone.
  int64_t (*signals)(void*, char*, int64_t);
  void (*keep)(void*, char*);
  void (*record)(void*, const int64_t*, int64_t, int64_t*, int64_t, int64_t, int64_t*);
};

Calls calls{};

int64_t load(const char* file) {
  library = dlopen(file, RTLD_NOW | RTLD_LOCAL);
  if (!library) {
    std::fprintf(stderr, "%s\n", dlerror());
    _exit(1);
  }
  find(calls.open, "plumb_open");
  find(calls.clock, "plumb_clock");
  find(calls.further_clock, "plumb_further_clock");
  find(calls.cycle, "plumb_cycle");
  find(calls.settle, "plumb_settle");
  find(calls.run, "plumb_run");
  find(calls.stream, "plumb_stream");
  find(calls.digest, "plumb_digest");
  find(calls.final_blocks, "plumb_final");
  find(calls.close, "plumb_close");
  find(calls.text, "plumb_text");
  find(calls.isolate, "plumb_isolate");
  find(cancel, "plumb_cancel");
  find(crashed, "plumb_crashed");
  calls.isolate();
  return 0;
}

int64_t answer(const Command& command) {
  const int64_t* const a = command.arguments;
  void* const model = pointer<void>(a[0]);
  const auto number = [=](int i) { return static_cast<int>(a[i]); };
  switch (command.function) {
    case UNMAP:
      unmap(model);
      return 0;
    case LOAD:
      control = pointer<plumb::Control>(a[0]);
      text = pointer<char>(a[1]);
      text_bytes = a[2];
      return load(pointer<const char>(a[3]));
    case OPEN:
      return reinterpret_cast<int64_t>(calls.open(control, pointer<int64_t>(a[0]),
                                                  static_cast<uint64_t>(a[1]), number(2), number(3),
                                                  pointer<const char>(a[4])));
    case CLOCK:
      calls.clock(model, number(1), a[2]);
      return 0;
    case FURTHER_CLOCK:
      calls.further_clock(model, number(1), a[2], a[3]);
      return 0;
    case CYCLE:
      return calls.cycle(model, a[1]);
    case SETTLE:
      return calls.settle(model);
    case RUN:
      return calls.run(model, pointer<int64_t>(a[1]), a[2], a[3]);
    case STREAM:
      return calls.stream(model, pointer<int64_t>(a[1]), a[2], a[3], a[4], number(5), number(6),
                          pointer<const int8_t>(a[7]), pointer<int32_t>(a[8]));
    case DIGEST:
      return calls.digest(model, pointer<plumb::DigestRun>(a[1]), a[2]);
    case FINAL:
      return calls.final_blocks(model);
    case CLOSE:
      calls.close(model);
      return 0;
    case TEXT:
      return calls.text(model, text, text_bytes);
    case SIGNALS:
      find(calls.signals, "plumb_signals");
      return calls.signals(model, pointer<char>(a[1]), a[2]);
    case KEEP:
      find(calls.keep, "plumb_keep");
      calls.keep(model, pointer<char>(a[1]));
      return 0;
    case RECORD:
      find(calls.record, "plumb_record");
      calls.record(model, pointer<const int64_t>(a[1]), a[2], pointer<int64_t>(a[3]), a[4], a[5],
                   pointer<int64_t>(a[6]));
      return 0;
    default:
      _exit(1);
  }
}

// Memory that grows without end fails to be had, before the machine has none left; and where the
// machine has less than is allowed, this process goes first.
void limit_memory(const char* megabytes) {
  const rlim_t bytes = static_cast<rlim_t>(std::atoll(megabytes)) << 20;
  const struct rlimit memory {bytes, bytes};
  setrlimit(RLIMIT_AS, &memory);
  const int score = open("/proc/self/oom_score_adj", O_WRONLY | O_CLOEXEC);
  if (score >= 0) {
    transfer(score, const_cast<char*>("1000"), 4, false);
    close(score);
  }
}

}  // namespace

int main(int count, char** words) {
  if (count != 2) return 1;
  limit_memory(words[1]);
  // Neither the pipes nor a terminal are within reach of C functions that print or read.
  commands = fcntl(0, F_DUPFD_CLOEXEC, 3);
  replies = fcntl(1, F_DUPFD_CLOEXEC, 3);
  const int nothing = open("/dev/null", O_RDWR | O_CLOEXEC);
  const int printed = memfd_create("printed", MFD_CLOEXEC);
  fcntl(printed, F_SETFL, O_APPEND);
  dup2(nothing, 0);
  dup2(printed, 1);
  dup2(printed, 2);
  setvbuf(stdout, nullptr, _IOLBF, 1 << 12);
  const struct rlimit none {};
  setrlimit(RLIMIT_CORE, &none);
  catch_signals();
  std::atexit([] { on_cancel(0); });  // a C function may call exit()
  // Signals are for this thread, which knows the model.
  sigset_t all, before;
  sigfillset(&all);
  pthread_sigmask(SIG_SETMASK, &all, &before);
  pthread_t watcher;
  pthread_create(&watcher, nullptr, watch_parent, nullptr);
  pthread_sigmask(SIG_SETMASK, &before, nullptr);
  Command command;
  while (transfer(commands, reinterpret_cast<char*>(&command), sizeof command, true)) {
    Reply reply{0, -1};
    if (command.function == MAP) {
      reply = map(static_cast<size_t>(command.arguments[0]));
    } else {
      reply.result = answer(command);
    }
    if (!transfer(replies, reinterpret_cast<char*>(&reply), sizeof reply, false)) break;
  }
  _exit(0);
}
