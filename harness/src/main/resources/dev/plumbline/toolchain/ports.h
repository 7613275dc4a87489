// Moves values between 64-bit words, as Java has them, and the members of a generated class. A
// port of w bits takes ceil(w/64) words, little end first.
#ifndef PLUMB_PORTS_H
#define PLUMB_PORTS_H

#include "verilated.h"

#include <cstdint>

namespace plumb {

constexpr uint64_t mask(int bits) { return bits >= 64 ? ~uint64_t{0} : (uint64_t{1} << bits) - 1; }

constexpr int64_t extend(uint64_t value, int bits, bool is_signed) {
  return is_signed && bits < 64 ? static_cast<int64_t>(value << (64 - bits)) >> (64 - bits)
                                : static_cast<int64_t>(value);
}

// Sets a port from the words at(column), at(column + 1), ...; bits beyond its width are ignored.
template <int Bits, class Member, class At>
inline void drive(Member& member, At at, int column) {
  if constexpr (Bits <= 64) {
    member = static_cast<Member>(static_cast<uint64_t>(at(column)) & mask(Bits));
  } else {
    constexpr int kParts = (Bits + 31) / 32;
    for (int i = 0; i < kParts; ++i) {
      const uint64_t word = static_cast<uint64_t>(at(column + i / 2)) >> (i % 2 * 32);
      member[i] = static_cast<EData>(word & mask(i == kParts - 1 ? Bits - 32 * i : 32));
    }
  }
}

// Reads a port into words, the last one extended by sign or zero.
template <int Bits, bool Signed, class Member, class At>
inline void sample(const Member& member, At at, int column) {
  if constexpr (Bits <= 64) {
    at(column) = extend(member, Bits, Signed);
  } else {
    constexpr int kWords = (Bits + 63) / 64;
    for (int i = 0; i < kWords; ++i) {
      const uint64_t low = member[2 * i];
      const uint64_t high = 2 * i + 1 < (Bits + 31) / 32 ? member[2 * i + 1] : 0;
      at(column + i) = extend(low | high << 32, i == kWords - 1 ? Bits - 64 * i : 64, Signed);
    }
  }
}

// Draws the words of a port, or of all elements of an array, by SplitMix64 (Steele, Lea, Flood
// 2014), unless it is held; gives the next state.
inline uint64_t draw(uint64_t state, const int8_t* held, int64_t* slots, int column, int words) {
  if (held[column]) return state;
  for (int i = column; i < column + words; ++i) {
    uint64_t z = state += 0x9E3779B97F4A7C15ULL;
    z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9ULL;
    z = (z ^ (z >> 27)) * 0x94D049BB133111EBULL;
    slots[i] = static_cast<int64_t>(z ^ (z >> 31));
  }
  return state;
}

constexpr uint64_t kPrime = 0x100000001B3ULL;

constexpr uint64_t power_of_prime(int exponent) {
  return exponent == 0 ? 1 : kPrime * power_of_prime(exponent - 1);
}

// Folds a word's eight bytes into a 64-bit FNV-1a (RFC 9923), low byte first. Each multiplication
// waits for the one before it, so bytes at the top that are always zero take one together.
template <int Bytes>
inline uint64_t fold_word(uint64_t digest, uint64_t word) {
  constexpr uint64_t kZeros = power_of_prime(8 - Bytes);
  for (int i = 0; i < Bytes; ++i, word >>= 8) digest = (digest ^ (word & 0xFF)) * kPrime;
  return digest * kZeros;
}

// Folds the words of so many elements of a width.
template <int Bits>
inline uint64_t fold(uint64_t digest, const int64_t* slots, int column, int elements) {
  constexpr int kBelow = (Bits - 1) / 64;
  constexpr int kTop = Bits - 64 * kBelow;
  for (int i = 0; i < elements; ++i) {
    for (int j = 0; j < kBelow; ++j) {
      digest = fold_word<8>(digest, static_cast<uint64_t>(slots[column++]));
    }
    const uint64_t top = static_cast<uint64_t>(slots[column++]) & mask(kTop);
    digest = fold_word<(kTop + 7) / 8>(digest, top);
  }
  return digest;
}

}  // namespace plumb

#endif
