#pragma once
// A few doubles that travel together, on the compiler's own vector type, with value semantics: no operator returns an
// expression, so `auto` is safe in formula text. Includes no container, so a file built for a newer processor leaks
// nothing.
#include <cmath>
#include <cstdint>
#include <cstring>

#include "scalar.hpp"
#if defined(__SSE2__)
#include <immintrin.h>
#endif

namespace decalesce {

namespace packet_detail {
// g++ 12 ignores vector_size() with a size that depends on a template argument, hence one specialisation a width.
template <int Lanes>
struct Vector;
template <>
struct Vector<2> {
  typedef double Doubles __attribute__((vector_size(16)));
  typedef std::int64_t Integers __attribute__((vector_size(16)));
  typedef std::uint64_t Unsigned __attribute__((vector_size(16)));
};
template <>
struct Vector<4> {
  typedef double Doubles __attribute__((vector_size(32)));
  typedef std::int64_t Integers __attribute__((vector_size(32)));
  typedef std::uint64_t Unsigned __attribute__((vector_size(32)));
};
}  // namespace packet_detail

template <int Lanes>
struct Mask {
  static constexpr int lanes = Lanes;
  using Integers = typename packet_detail::Vector<Lanes>::Integers;
  Integers bits;  // every bit of a lane set, or none

  static Mask load(const std::int64_t* from) {
    Mask m;
    std::memcpy(&m.bits, from, sizeof(Integers));
    return m;
  }
  void store(std::int64_t* to) const { std::memcpy(to, &bits, sizeof(Integers)); }

  friend Mask operator&(const Mask& a, const Mask& b) { return {a.bits & b.bits}; }
  friend Mask operator|(const Mask& a, const Mask& b) { return {a.bits | b.bits}; }
  friend Mask operator!(const Mask& a) { return {~a.bits}; }
  friend bool all(const Mask& a) { return lanes_set(a) == (1 << Lanes) - 1; }
  friend bool any(const Mask& a) { return lanes_set(a) != 0; }

 private:
  /// One bit a lane.
  static int lanes_set(const Mask& a) {
#if defined(__SSE2__)
    if constexpr (Lanes == 2) return _mm_movemask_pd((__m128d)a.bits);
#endif
#if defined(__AVX__)
    if constexpr (Lanes == 4) return _mm256_movemask_pd((__m256d)a.bits);
#endif
    int set = 0;
    for (int i = 0; i < Lanes; ++i) set |= (a.bits[i] != 0 ? 1 : 0) << i;
    return set;
  }
};

template <int Lanes>
struct Packet {
  using Doubles = typename packet_detail::Vector<Lanes>::Doubles;
  using Integers = typename packet_detail::Vector<Lanes>::Integers;
  using Unsigned = typename packet_detail::Vector<Lanes>::Unsigned;
  static constexpr int lanes = Lanes;

  Doubles v;

  Packet() = default;
  Packet(double same) : v(Doubles{} + same) {}  // implicit on purpose: 539.0 - 423.0 * w.C
  explicit Packet(Doubles values) : v(values) {}

  static Packet load(const double* from) {
    Packet p;
    std::memcpy(&p.v, from, sizeof(Doubles));
    return p;
  }
  void store(double* to) const { std::memcpy(to, &v, sizeof(Doubles)); }
  double operator[](int lane) const { return v[lane]; }

  friend Packet operator+(const Packet& a, const Packet& b) { return Packet(a.v + b.v); }
  friend Packet operator-(const Packet& a, const Packet& b) { return Packet(a.v - b.v); }
  friend Packet operator*(const Packet& a, const Packet& b) { return Packet(a.v * b.v); }
  friend Packet operator/(const Packet& a, const Packet& b) { return Packet(a.v / b.v); }
  friend Packet operator-(const Packet& a) { return Packet(-a.v); }
  friend Mask<Lanes> operator<(const Packet& a, const Packet& b) { return {(Integers)(a.v < b.v)}; }
  friend Mask<Lanes> operator<=(const Packet& a, const Packet& b) { return {(Integers)(a.v <= b.v)}; }
  friend Mask<Lanes> operator>(const Packet& a, const Packet& b) { return {(Integers)(a.v > b.v)}; }
  friend Mask<Lanes> operator>=(const Packet& a, const Packet& b) { return {(Integers)(a.v >= b.v)}; }
  friend Mask<Lanes> operator==(const Packet& a, const Packet& b) { return {(Integers)(a.v == b.v)}; }

  friend Packet select(const Mask<Lanes>& m, const Packet& yes, const Packet& no) {
#if defined(__AVX__)
    if constexpr (Lanes == 4) return Packet((Doubles)_mm256_blendv_pd((__m256d)no.v, (__m256d)yes.v, (__m256d)m.bits));
#endif
    return Packet((Doubles)((Integers)no.v ^ (m.bits & ((Integers)yes.v ^ (Integers)no.v))));
  }
  friend Packet keep(const Mask<Lanes>& m, const Packet& a) { return Packet((Doubles)(m.bits & (Integers)a.v)); }
  /// As the generic ones of scalar.hpp, NaN included, in one instruction where there is one.
  friend Packet larger(const Packet& a, const Packet& b) {
#if defined(__SSE2__)
    if constexpr (Lanes == 2) return Packet((Doubles)_mm_max_pd((__m128d)b.v, (__m128d)a.v));
#endif
#if defined(__AVX__)
    if constexpr (Lanes == 4) return Packet((Doubles)_mm256_max_pd((__m256d)b.v, (__m256d)a.v));
#endif
    return select(a <= b, b, a);
  }
  friend Packet smaller(const Packet& a, const Packet& b) {
#if defined(__SSE2__)
    if constexpr (Lanes == 2) return Packet((Doubles)_mm_min_pd((__m128d)a.v, (__m128d)b.v));
#endif
#if defined(__AVX__)
    if constexpr (Lanes == 4) return Packet((Doubles)_mm256_min_pd((__m256d)a.v, (__m256d)b.v));
#endif
    return select(a <= b, a, b);
  }

  friend Packet sqrt(const Packet& a) {
#if defined(__SSE2__)
    if constexpr (Lanes == 2) return Packet((Doubles)_mm_sqrt_pd((__m128d)a.v));
#endif
#if defined(__AVX__)
    if constexpr (Lanes == 4) return Packet((Doubles)_mm256_sqrt_pd((__m256d)a.v));
#endif
    Packet r;
    for (int i = 0; i < Lanes; ++i) r.v[i] = std::sqrt(a.v[i]);
    return r;
  }

  /// Rational approximation after Cody-Waite reduction (Moshier's coefficients); within 2 units in the last place.
  friend Packet exp(const Packet& a) {
    constexpr double shifter = 6755399441055744.0;  // 1.5 * 2^52: its low bits then hold the integer
    // beyond these the two scales below give 0 and infinity by themselves; a NaN passes both comparisons
    const Packet x = larger(smaller(Packet(710.0), a), Packet(-746.0));
    const Packet shifted = x * 1.44269504088896340736 + shifter;
    const Packet n = shifted - shifter;
    const Packet r = x - n * 6.93145751953125e-1 - n * 1.42860682030941723212e-6;
    const Packet rr = r * r;
    const Packet p =
        r * ((1.26177193074810590878e-4 * rr + 3.02994407707441961300e-2) * rr + 9.99999999999999999910e-1);
    const Packet q =
        ((3.00198505138664455042e-6 * rr + 2.52448340349684104192e-3) * rr + 2.27265548208155028766e-1) * rr +
        2.00000000000000000009;
    const Packet fraction = 1.0 + 2.0 * (p / (q - p));
    // n is halved so that 2^n is made from two normal numbers even at the ends of the range; 2048 keeps the shifted
    // number positive, since only the logical shift of 64 bits is one instruction on every processor
    const Integers whole = (Integers)shifted.v - (Integers)(Doubles{} + shifter);
    const Integers half = (Integers)((Unsigned)(whole + 2048) >> 1) - 1024;
    const Integers one = (Integers)(Doubles{} + 1.0);
    const Packet scale_1((Doubles)(one + (half << 52)));
    const Packet scale_2((Doubles)(one + ((whole - half) << 52)));
    return fraction * scale_1 * scale_2;
  }

  /// Natural logarithm (Moshier's coefficients); within 2 units in the last place. Zero gives -inf, negative gives NaN.
  friend Packet log(const Packet& a) {
    constexpr double shifter = 4503599627370496.0;  // 2^52
    const Mask<Lanes> tiny = a < Packet(2.2250738585072014e-308);
    const Packet x = select(tiny, a * 18014398509481984.0, a);  // 2^54 lifts subnormal numbers
    const Integers bits = (Integers)x.v;
    const Integers mantissa_bits = (bits & 0x000FFFFFFFFFFFFFLL) | 0x3FE0000000000000LL;
    Packet m((Doubles)mantissa_bits);  // 0.5 <= m < 1
    const Integers exponent_bits = ((Integers)((Unsigned)bits >> 52) & 0x7FFLL) | (Integers)(Doubles{} + shifter);
    Packet e = Packet((Doubles)exponent_bits) - shifter - 1022.0 - select(tiny, Packet(54.0), Packet(0.0));
    const Mask<Lanes> small = m < Packet(0.70710678118654752440);
    e = select(small, e - 1.0, e);
    m = select(small, m + m, m) - 1.0;
    const Packet z = m * m;
    const Packet p = ((((1.01875663804580931796e-4 * m + 4.97494994976747001425e-1) * m + 4.70579119878881725854) * m +
                       1.44989225341610930846e1) *
                          m +
                      1.79368678507819816313e1) *
                         m +
                     7.70838733755885391666;
    const Packet q =
        ((((m + 1.12873587189167450590e1) * m + 4.52279145837532221105e1) * m + 8.29875266912776603211e1) * m +
         7.11544750618563894466e1) *
            m +
        2.31251620126765340583e1;
    const Packet y = m * (z * p / q) - e * 2.121944400546905827679e-4 - 0.5 * z;
    const Packet result = m + y + e * 0.693359375;
    const Packet checked = select(a == Packet(0.0), Packet(-HUGE_VAL), select(a < Packet(0.0), Packet(NAN), result));
    return select((a == a) & (a < Packet(HUGE_VAL)), checked, a);
  }
};

}  // namespace decalesce
