#pragma once
// Batch loop over the joined critical temperatures, one text for every packet width.
#include "blocks.hpp"
#include "decalesce/ground/flags.hpp"
#include "decalesce/laws/critical_join.hpp"

namespace decalesce::kernels {

template <class Real>
void put_bits(const typename Real::Integers& bits, std::uint64_t* out, std::size_t i, std::size_t count) {
  if (i + Real::lanes <= count) {
    std::memcpy(out + i, &bits, sizeof(bits));
    return;
  }
  for (std::size_t lane = 0; lane < Real::lanes && i + lane < count; ++lane)
    out[i + lane] = static_cast<std::uint64_t>(bits[static_cast<int>(lane)]);
}

/// Half-widths and not-stated marks of one block, as contiguous doubles.
template <class Real>
struct DoubtBlock {
  static constexpr std::size_t rows = Block<Real>::rows;
  static constexpr Element marked[] = {Element::C, Element::Mn, Element::Cr, Element::Ni, Element::Mo, Element::Cu};
  double width[critical::voting_count][rows];
  double mark[6][rows];

  void take(const Doubt& doubt, std::size_t first, std::size_t count) {
    if (doubt.any_half_width)
      for (int k = 0; k < critical::voting_count; ++k) {
        const Column& from = doubt.half_width[index(critical::voting_elements[k])];
        for (std::size_t i = 0; i < rows; ++i)
          width[k][i] = from.data == nullptr
                            ? from.absent
                            : from.data[static_cast<std::ptrdiff_t>(first + (i < count ? i : count - 1)) * from.stride];
      }
    if (doubt.any_not_stated)
      for (int k = 0; k < 6; ++k) {
        const StatedColumn& from = doubt.stated[index(marked[k])];
        for (std::size_t i = 0; i < rows; ++i) {
          const std::uint8_t code = from.data == nullptr ? from.same : from.data[first + (i < count ? i : count - 1)];
          mark[k][i] = code == static_cast<std::uint8_t>(Stated::not_stated) ? 1.0 : 0.0;
        }
      }
  }

  critical::NotStated<Real> not_stated(std::size_t i) const {
    const auto is = [&](int k) { return Real::load(mark[k] + i) > Real(0.5); };
    return {is(0), is(1), is(2), is(3), is(4), is(5)};
  }
};

/// What the quantities share, kept for one block; masks as the bits of their lanes.
template <class Real>
struct SharedBlock {
  static constexpr std::size_t rows = Block<Real>::rows;
  double family[rows];
  double ac1[rows];
  std::int64_t safe[rows];
  std::int64_t hyper[rows];
  std::int64_t blank[rows];

  void store(const critical::Shared<Real>& s, std::size_t i) {
    s.family.store(family + i);
    std::memcpy(safe + i, &s.safe.bits, sizeof(s.safe.bits));
    std::memcpy(hyper + i, &s.hyper.bits, sizeof(s.hyper.bits));
    std::memcpy(blank + i, &s.blank.set, sizeof(s.blank.set));
  }
  critical::Shared<Real> load(std::size_t i) const {
    critical::Shared<Real> s;
    s.family = Real::load(family + i);
    std::memcpy(&s.safe.bits, safe + i, sizeof(s.safe.bits));
    std::memcpy(&s.hyper.bits, hyper + i, sizeof(s.hyper.bits));
    std::memcpy(&s.blank.set, blank + i, sizeof(s.blank.set));
    return s;
  }
};

template <class Real>
inline void put_answer(const critical::Answer<Real>& a, const CriticalColumns& out, int q, std::size_t first,
                       std::size_t i, std::size_t count) {
  const Real half = sqrt(a.square_formula + a.square_composition) + a.shift;
  put(a.value, out.value[q] + first, i, count);
  put(a.value - half, out.low[q] + first, i, count);
  put(a.value + half, out.high[q] + first, i, count);
  put_bits<Real>(a.bits.set, out.flags[q] + first, i, count);
  if (out.formula_part[q] == nullptr) return;
  put(sqrt(a.square_formula), out.formula_part[q] + first, i, count);
  // what the residuals widen belongs to the composition, and parts add in quadrature
  put(sqrt(half * half - a.square_formula), out.composition_part[q] + first, i, count);
}

/// The quantities one after the other, a short loop each: the processor then works on several packets at once.
template <class Real, bool Widths, bool Absent>
struct CriticalBlocks {
  Block<Real> block;
  DoubtBlock<Real> doubts;
  SharedBlock<Real> kept;

  critical::Steel<Real> steel(std::size_t i) const {
    const Condition<Real> never = Real(0.0) < Real(0.0);
    critical::Steel<Real> s{block.amounts(i), {never, never, never, never, never, never}, {}};
    if constexpr (Absent) s.absent = doubts.not_stated(i);
    if constexpr (Widths)
      for (int k = 0; k < critical::voting_count; ++k) s.half_width[k] = Real::load(doubts.width[k] + i);
    return s;
  }

  [[gnu::flatten]] void share(std::size_t count) {
    for (std::size_t i = 0; i < count; i += Real::lanes) kept.store(critical::shared_of<Absent>(steel(i)), i);
  }
  [[gnu::flatten]] void ac1(const CriticalColumns& out, std::size_t first, std::size_t count) {
    for (std::size_t i = 0; i < count; i += Real::lanes) {
      const auto a = critical::join_ac1<Widths, Absent>(steel(i), kept.load(i));
      a.value.store(kept.ac1 + i);
      put_answer(a, out, 0, first, i, count);
    }
  }
  [[gnu::flatten]] void ac3(const CriticalColumns& out, std::size_t first, std::size_t count) {
    for (std::size_t i = 0; i < count; i += Real::lanes) {
      const auto shared = kept.load(i);
      auto a = critical::join<Widths, Absent>(critical::Ac3Votes{}, steel(i), shared);
      critical::one_side(a, Real::load(kept.ac1 + i), shared.hyper, shared);
      put_answer(a, out, 1, first, i, count);
    }
  }
  [[gnu::flatten]] void acm(const CriticalColumns& out, std::size_t first, std::size_t count) {
    for (std::size_t i = 0; i < count; i += Real::lanes) {
      const auto shared = kept.load(i);
      auto a = critical::join_acm<Widths, Absent>(steel(i), shared);
      critical::one_side(a, Real::load(kept.ac1 + i), !shared.hyper, shared);
      put_answer(a, out, 2, first, i, count);
    }
  }
  [[gnu::flatten]] void ms_and_mf(const CriticalColumns& out, std::size_t first, std::size_t count) {
    for (std::size_t i = 0; i < count; i += Real::lanes) {
      const auto one = steel(i);
      const auto shared = kept.load(i);
      auto ms = critical::join<Widths, Absent>(critical::MsVotes{}, one, shared);
      auto mf = critical::join_mf(one, shared, ms);
      critical::say_bulk(ms, shared);
      critical::say_bulk(mf, shared);
      put_answer(ms, out, 3, first, i, count);
      put_answer(mf, out, 4, first, i, count);
    }
  }
  [[gnu::flatten]] void bs(const CriticalColumns& out, std::size_t first, std::size_t count) {
    for (std::size_t i = 0; i < count; i += Real::lanes) {
      const auto shared = kept.load(i);
      auto a = critical::join<Widths, Absent>(critical::BsVotes{}, steel(i), shared);
      critical::say_bulk(a, shared);
      put_answer(a, out, 5, first, i, count);
    }
  }

  static void run(const Inputs& in, const Doubt& doubt, const CriticalColumns& out) {
    CriticalBlocks b;
    for (std::size_t first = 0; first < in.rows; first += Block<Real>::rows) {
      const std::size_t left = in.rows - first;
      const std::size_t count = left < Block<Real>::rows ? left : Block<Real>::rows;
      b.block.take(in, first, count);
      b.doubts.take(doubt, first, count);
      b.share(count);
      b.ac1(out, first, count);
      b.ac3(out, first, count);
      b.acm(out, first, count);
      b.ms_and_mf(out, first, count);
      b.bs(out, first, count);
      if (out.family != nullptr)
        for (std::size_t i = 0; i < count; ++i) out.family[first + i] = static_cast<std::uint8_t>(b.kept.family[i]);
    }
  }
};

template <class Real>
void critical_temperatures(const Inputs& in, const Doubt& doubt, const CriticalColumns& out) {
  if (doubt.any_half_width)
    doubt.any_not_stated ? CriticalBlocks<Real, true, true>::run(in, doubt, out)
                         : CriticalBlocks<Real, true, false>::run(in, doubt, out);
  else
    doubt.any_not_stated ? CriticalBlocks<Real, false, true>::run(in, doubt, out)
                         : CriticalBlocks<Real, false, false>::run(in, doubt, out);
}

}  // namespace decalesce::kernels
