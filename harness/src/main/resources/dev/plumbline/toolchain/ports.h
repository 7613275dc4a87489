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

}  // namespace plumb

#endif
