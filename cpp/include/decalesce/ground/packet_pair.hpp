#pragma once
// Two packets that go through a formula side by side: while one waits for a result the processor works on the other.
#include "packet.hpp"

namespace decalesce {

template <class M>
struct MaskPair {
  M first, second;

  static MaskPair load(const std::int64_t* from) { return {M::load(from), M::load(from + M::lanes)}; }
  void store(std::int64_t* to) const {
    first.store(to);
    second.store(to + M::lanes);
  }
  friend MaskPair operator&(const MaskPair& a, const MaskPair& b) { return {a.first & b.first, a.second & b.second}; }
  friend MaskPair operator|(const MaskPair& a, const MaskPair& b) { return {a.first | b.first, a.second | b.second}; }
  friend MaskPair operator!(const MaskPair& a) { return {!a.first, !a.second}; }
  friend bool all(const MaskPair& a) { return all(a.first) && all(a.second); }
  friend bool any(const MaskPair& a) { return any(a.first) || any(a.second); }
};

template <class P>
struct PacketPair {
  using Half = P;
  using Comparison = MaskPair<decltype(P(0.0) < P(0.0))>;
  static constexpr int lanes = 2 * P::lanes;

  P first, second;

  PacketPair() = default;
  PacketPair(double same) : first(same), second(same) {}  // implicit on purpose, as for packets
  PacketPair(const P& a, const P& b) : first(a), second(b) {}

  static PacketPair load(const double* from) { return {P::load(from), P::load(from + P::lanes)}; }
  void store(double* to) const {
    first.store(to);
    second.store(to + P::lanes);
  }
  double operator[](int lane) const { return lane < P::lanes ? first[lane] : second[lane - P::lanes]; }

  friend PacketPair operator+(const PacketPair& a, const PacketPair& b) {
    return {a.first + b.first, a.second + b.second};
  }
  friend PacketPair operator-(const PacketPair& a, const PacketPair& b) {
    return {a.first - b.first, a.second - b.second};
  }
  friend PacketPair operator*(const PacketPair& a, const PacketPair& b) {
    return {a.first * b.first, a.second * b.second};
  }
  friend PacketPair operator/(const PacketPair& a, const PacketPair& b) {
    return {a.first / b.first, a.second / b.second};
  }
  friend PacketPair operator-(const PacketPair& a) { return {-a.first, -a.second}; }
  friend Comparison operator<(const PacketPair& a, const PacketPair& b) {
    return {a.first < b.first, a.second < b.second};
  }
  friend Comparison operator<=(const PacketPair& a, const PacketPair& b) {
    return {a.first <= b.first, a.second <= b.second};
  }
  friend Comparison operator>(const PacketPair& a, const PacketPair& b) {
    return {a.first > b.first, a.second > b.second};
  }
  friend Comparison operator>=(const PacketPair& a, const PacketPair& b) {
    return {a.first >= b.first, a.second >= b.second};
  }
  friend Comparison operator==(const PacketPair& a, const PacketPair& b) {
    return {a.first == b.first, a.second == b.second};
  }
  friend PacketPair select(const Comparison& m, const PacketPair& yes, const PacketPair& no) {
    return {select(m.first, yes.first, no.first), select(m.second, yes.second, no.second)};
  }
  friend PacketPair keep(const Comparison& m, const PacketPair& a) {
    return {keep(m.first, a.first), keep(m.second, a.second)};
  }
  friend PacketPair larger(const PacketPair& a, const PacketPair& b) {
    return {larger(a.first, b.first), larger(a.second, b.second)};
  }
  friend PacketPair smaller(const PacketPair& a, const PacketPair& b) {
    return {smaller(a.first, b.first), smaller(a.second, b.second)};
  }
  friend PacketPair sqrt(const PacketPair& a) { return {sqrt(a.first), sqrt(a.second)}; }
  friend PacketPair exp(const PacketPair& a) { return {exp(a.first), exp(a.second)}; }
  friend PacketPair log(const PacketPair& a) { return {log(a.first), log(a.second)}; }
};

}  // namespace decalesce
