// A program over rows, which statements.h has: what loops over columns do, four rows at a time
// with every value in a register or on the stack. RowCode of the models says what it is written in.
#include <cstdint>

#if defined(__x86_64__) && defined(__GNUC__) && !defined(__clang__)

// Compiled for any processor, to be asked first.
extern "C" int plumb_rows_able() {
#ifdef PLUMB_AVX512
  if (!__builtin_cpu_supports("avx512dq") || !__builtin_cpu_supports("avx512vl")) return 0;
#endif
  return __builtin_cpu_supports("avx2") != 0;
}

// AVX-512 also has products of words in one instruction.
#ifdef PLUMB_AVX512
#pragma GCC target("avx2,avx512f,avx512dq,avx512vl")
#define BYTES 64
#define ON_HALVES(name, a, b) (W)__builtin_ia32_##name##512_mask((H)a, (H)b, LL{}, -1)
#define ROUNDED(x, how) __builtin_ia32_rndscalepd_mask(x, how, x, -1, 4)
#define ROOT(x) __builtin_ia32_sqrtpd512_mask(x, x, -1, 4)
#define ON_REALS(name, a, b) __builtin_ia32_##name##512_mask(a, b, a, -1, 4)
#else
#pragma GCC target("avx2")
#define BYTES 32
#define ON_HALVES(name, a, b) (W)__builtin_ia32_##name##256((H)a, (H)b)
#define ROUNDED(x, how) __builtin_ia32_roundpd256(x, how)
#define ROOT(x) __builtin_ia32_sqrtpd256(x)
#define ON_REALS(name, a, b) __builtin_ia32_##name##256(a, b)
#endif

typedef int64_t W __attribute__((vector_size(BYTES)));  // whole numbers of some rows
typedef uint64_t U __attribute__((vector_size(BYTES)));
typedef double R __attribute__((vector_size(BYTES)));
typedef long long LL __attribute__((vector_size(BYTES)));  // as the compiler calls them
typedef int H __attribute__((vector_size(BYTES)));
typedef int64_t Place __attribute__((vector_size(BYTES), aligned(8)));

static const int64_t Rows = sizeof(W) / sizeof(int64_t);

static inline W load(const int64_t *from) { return *(const Place *)from; }
static inline void store(int64_t *to, W x) { *(Place *)to = x; }
static inline W whole(int64_t x) { return W{} + x; }
static inline R real(double x) { return x - R{}; }

static inline W srl(W x, int bits) { return (W)((U)x >> bits); }
static inline W sign(W x) { return x < 0; }
static inline W any(W x) { return x != 0; }
static inline W chosen(W mask, W some, W other) { return mask ? some : other; }
static inline W turned(W mask, W x) { return (x ^ mask) - mask; }
static inline W least(W a, W b) { return a < b ? a : b; }
static inline W greatest(W a, W b) { return a < b ? b : a; }
static inline W limited(W x, W min, W max) { return least(greatest(x, min), max); }

// Of codes that leave a bit for the sum of two; of an interval.
static inline W least_magnitude(W low, W high) {
  const W zero = whole(0);
  return greatest(greatest(low + high, zero) - high, zero);
}
static inline W greatest_magnitude(W low, W high) { return greatest(high, -low); }

// Of numbers that fit half a word.
static inline W product_of_halves(W a, W b) { return ON_HALVES(pmuldq, a, b); }

// The upper word of a product of two words' length, from products of halves; what the halves of
// words lack as signed numbers is taken off at the end.
static inline W product_of_lower(W a, W b) { return ON_HALVES(pmuludq, a, b); }
static inline W upper_product(W a, W b) {
  const W half = whole(0xFFFFFFFF);
  const W across = product_of_lower(srl(a, 32), b) + srl(product_of_lower(a, b), 32);
  const W other = product_of_lower(a, srl(b, 32)) + (across & half);
  const W upper = product_of_lower(srl(a, 32), srl(b, 32)) + srl(across, 32) + srl(other, 32);
  return upper - (sign(a) & b) - (sign(b) & a);
}

// Two words: 1 where the lower ones carry or borrow, all ones where one number is less.
static inline W below(W a, W b) { return (a ^ INT64_MIN) < (b ^ INT64_MIN); } // without signs
static inline W carry(W a, W b) { return -below(a + b, a); }
static inline W borrow(W a, W b) { return -below(a, b); }
static inline W less(W aHigh, W a, W bHigh, W b) { return sign(aHigh - bHigh - borrow(a, b)); }

// A number of two words, into limits of 62 bits.
static inline W fitted(W low, W high, W min, W max) {
  const W beyond = any(high ^ (low >> 61));
  return limited(chosen(beyond, chosen(sign(high), min, max), low), min, max);
}
static inline W fitted_round(W low, W high, int bits, W add, W min, W max) {
  const W up = srl((low & ((INT64_C(1) << bits) - 1)) + add, bits);
  const W kept = srl(low, bits) | (high << (64 - bits));
  return fitted(kept + up, (high >> bits) + carry(kept, up), min, max);
}

// From neighbours, by what is left: floor and ceiling of a quotient, a root.
static inline W floored(W quotient, W by, W rest) {
  return quotient + srl(by - 1 - rest, 63) - srl(rest, 63);
}
static inline W raised(W quotient, W by, W rest) {
  return quotient + srl(-rest, 63) - srl(by - 1 + rest, 63);
}
static inline W raised_root(W root, W rest, W always, W ofRoot) {
  const W more = srl(2 * root - rest, 63);
  const W left = rest - ((2 * root + 1) & -more);
  const W next = root + more;
  return next + srl(always + (next & ofRoot) - left, 63);
}

// To doubles, rounded once: both halves of a number are put where doubles from 2^52 and from 2^84
// on have their last 32 bits.
static inline R reals(W x) {
  const R low = (R)((x & 0xFFFFFFFF) | (W)real(0x1p52)) - real(0x1p52);
  const R high = (R)(srl(x, 32) ^ (W)real(0x1p84) ^ INT64_C(0x80000000));
  return (high - real(0x1p84 + 0x1p63)) + low;
}

// The same of 51 bits, which stand at the end of such a double; and back, of whole numbers.
static inline R short_reals(W x) { return (R)(x + (W)real(0x1.8p52)) - real(0x1.8p52); }
static inline W exact_codes(R x) { return (W)(x + real(0x1.8p52)) - (W)real(0x1.8p52); }

// Whole parts that fit a word, or 51 bits; what is no number is 0, as in Java.
static inline W codes(R x) { return __builtin_convertvector((R)((W)x & (x == x)), W); }
static inline W short_codes(R x) {
  return exact_codes(ROUNDED((R)((W)x & (x == x)), 11));
}
static inline W bits(R x) { return (W)x; }

// As IEEE 754 has them, in whatever order they are asked for.
static inline R root(R x) { return ROOT(x); }
static inline R nearest(R x) { return ROUNDED(x, 8); }
static inline R floors(R x) { return ROUNDED(x, 9); }
static inline R ceilings(R x) { return ROUNDED(x, 10); }
static inline R smaller(R a, R b) { return ON_REALS(minpd, a, b); }
static inline R larger(R a, R b) { return ON_REALS(maxpd, a, b); }
static inline R between(R x, R least, R greatest) { return smaller(larger(x, least), greatest); }

// SplitMix64's function of the state.
static inline W mixed(W state) {
  const W once = (state ^ srl(state, 30)) * INT64_C(-0x40A7B892E31B1A47);
  const W twice = (once ^ srl(once, 27)) * INT64_C(-0x6B2FB644ECCEEE15);
  return twice ^ srl(twice, 31);
}

#define input(k) load(columns + (k) * stride + row)
#define output(k, x) store(columns + (FIRST_OUTPUT + (k)) * stride + row, x)

// Rows are a multiple of four: columns have room for them.
extern "C" void plumb_rows(int64_t *columns, int64_t stride, int64_t from, int64_t count) {
  const W state = whole(from);
  for (int64_t row = 0; row < count; row += Rows) {
#include "statements.h"
  }
  (void)state;
}

#else

extern "C" int plumb_rows_able() { return 0; }
extern "C" void plumb_rows(int64_t *, int64_t, int64_t, int64_t) {}

#endif

// Calls a program of any library: whoever calls has to look up but this.
extern "C" void plumb_rows_through(int64_t program, int64_t columns, int64_t stride, int64_t from,
                                   int64_t count) {
  ((void (*)(int64_t *, int64_t, int64_t, int64_t))program)((int64_t *)columns, stride, from, count);
}
