#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <utility>

namespace film {

/// Random numbers that are the same on every machine for the same seed, unlike the
/// distributions of <random>. xoshiro256** seeded by splitmix64.
/// Source: D. Blackman, S. Vigna, "Scrambled linear pseudorandom number generators", ACM TOMS
/// 47(4), 2021.
class Rng {
 public:
  explicit Rng(std::uint64_t seed) {
    for (auto& word : state_) {
      seed += 0x9e3779b97f4a7c15u;
      std::uint64_t z = seed;
      z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9u;
      z = (z ^ (z >> 27)) * 0x94d049bb133111ebu;
      word = z ^ (z >> 31);
    }
  }

  std::uint64_t next() {
    const std::uint64_t result = rotate(state_[1] * 5, 7) * 9;
    const std::uint64_t t = state_[1] << 17;
    state_[2] ^= state_[0];
    state_[3] ^= state_[1];
    state_[1] ^= state_[2];
    state_[0] ^= state_[3];
    state_[2] ^= t;
    state_[3] = rotate(state_[3], 45);
    return result;
  }

  /// Uniform in [0, 1).
  double uniform() { return static_cast<double>(next() >> 11) * 0x1.0p-53; }
  /// Uniform in [low, high).
  double uniform(double low, double high) { return low + (high - low) * uniform(); }
  /// Uniform in 0 .. count - 1; count must be positive. (Bias below 2^-32 for counts below 2^32.)
  std::size_t below(std::size_t count) {
    return static_cast<std::size_t>(((next() >> 32) * static_cast<std::uint64_t>(count)) >> 32);
  }

  template <class Sequence>
  void shuffle(Sequence& items) {
    for (std::size_t i = items.size(); i > 1; --i) std::swap(items[i - 1], items[below(i)]);
  }

 private:
  static std::uint64_t rotate(std::uint64_t x, int k) { return (x << k) | (x >> (64 - k)); }
  std::array<std::uint64_t, 4> state_{};
};

}  // namespace film
