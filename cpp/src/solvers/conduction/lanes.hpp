#pragma once
// What the integrator asks of its numbers beyond arithmetic: how many bodies or points one holds, and how to read them.
// In a namespace without a name, so that nothing is shared between the builds for different processors.
#include <cstdint>
#include <cstring>

#include "decalesce/ground/packet.hpp"

namespace decalesce::conduction {

namespace {

template <class Real>
struct Lanes;
template <>
struct Lanes<double> {
  static constexpr int count = 1;
  static double load(const double* from) { return *from; }
  static void store(double* to, double v) { *to = v; }
  static double lane(double v, int) { return v; }
  static bool mask(const bool* on) { return on[0]; }
  static void bits(std::int64_t* to, double v) { std::memcpy(to, &v, sizeof v); }
  /// Four numbers that stand together in memory, lane by lane.
  static void four(double (&to)[4], const double* const* from) {
    for (int k = 0; k < 4; ++k) to[k] = from[0][k];
  }
};
template <int N>
struct Lanes<Packet<N>> {
  using P = Packet<N>;
  static constexpr int count = N;
  static P load(const double* from) { return P::load(from); }
  static void store(double* to, const P& v) { v.store(to); }
  static double lane(const P& v, int i) { return v[i]; }
  static Mask<N> mask(const bool* on) {
    Mask<N> m;
    for (int i = 0; i < N; ++i) m.bits[i] = on[i] ? -1 : 0;
    return m;
  }
  static void bits(std::int64_t* to, const P& v) { std::memcpy(to, &v.v, sizeof v.v); }
  /// Four numbers that stand together in memory, lane by lane: loads and a transposition.
  static void four(P (&to)[4], const double* const* from) {
    if constexpr (N == 2) {
      for (int half = 0; half < 4; half += 2) {
        const auto a = P::load(from[0] + half).v;
        const auto b = P::load(from[1] + half).v;
        to[half].v = __builtin_shufflevector(a, b, 0, 2);
        to[half + 1].v = __builtin_shufflevector(a, b, 1, 3);
      }
    } else {
      const auto a = P::load(from[0]).v;
      const auto b = P::load(from[1]).v;
      const auto c = P::load(from[2]).v;
      const auto d = P::load(from[3]).v;
      const auto even_ab = __builtin_shufflevector(a, b, 0, 4, 2, 6);
      const auto odd_ab = __builtin_shufflevector(a, b, 1, 5, 3, 7);
      const auto even_cd = __builtin_shufflevector(c, d, 0, 4, 2, 6);
      const auto odd_cd = __builtin_shufflevector(c, d, 1, 5, 3, 7);
      to[0].v = __builtin_shufflevector(even_ab, even_cd, 0, 1, 4, 5);
      to[1].v = __builtin_shufflevector(odd_ab, odd_cd, 0, 1, 4, 5);
      to[2].v = __builtin_shufflevector(even_ab, even_cd, 2, 3, 6, 7);
      to[3].v = __builtin_shufflevector(odd_ab, odd_cd, 2, 3, 6, 7);
    }
  }
};

}  // namespace

}  // namespace decalesce::conduction
