#pragma once
// Batch loop over the joined critical temperatures, one text for every packet width.
#include "blocks.hpp"
#include "decalesce/ground/flags.hpp"
#include "decalesce/laws/critical_join.hpp"

namespace decalesce::kernels {

/// Amounts, half-widths and not-stated marks of one block.
template <class Real>
struct SteelBlock {
  static constexpr Element marked[] = {Element::C, Element::Mn, Element::Cr, Element::Ni, Element::Mo, Element::Cu};
  double amount[columns_composition][block_rows];
  double width[critical::voting_count][block_rows];
  std::int64_t mark[6][block_rows];

  template <bool Widths, bool Absent>
  void fill(const Inputs& in, const Doubt& doubt, std::size_t first, std::size_t count) {
    for (int k = 0; k < columns_composition; ++k) take<Real>(amount[k], in.composition[k], first, count);
    if constexpr (Widths)
      for (int k = 0; k < critical::voting_count; ++k)
        take<Real>(width[k], doubt.half_width[index(critical::voting_elements[k])], first, count);
    if constexpr (Absent)
      for (int k = 0; k < 6; ++k) take_mark(mark[k], doubt.stated[index(marked[k])], first, count);
  }

  static void take_mark(std::int64_t (&to)[block_rows], const StatedColumn& from, std::size_t first,
                        std::size_t count) {
    constexpr auto missing = static_cast<std::uint8_t>(Stated::not_stated);
    if (from.data == nullptr && first != 0) return;  // already filled with the one value
    for (std::size_t i = 0; i < block_rows; ++i) {
      const std::uint8_t code = from.data == nullptr ? from.same : from.data[first + (i < count ? i : count - 1)];
      to[i] = code == missing ? -1 : 0;
    }
  }

  template <bool Widths, bool Absent>
  critical::Steel<Real> steel(std::size_t i) const {
    const Condition<Real> never = Real(0.0) < Real(0.0);
    critical::Steel<Real> s{{}, {never, never, never, never, never, never}, {}};
    for_each_element([&](Element e) { s.w[e] = Real::load(amount[index(e)] + i); });
    if constexpr (Absent) {
      const auto is = [&](int k) { return Condition<Real>::load(mark[k] + i); };
      s.absent = {is(0), is(1), is(2), is(3), is(4), is(5)};
    }
    if constexpr (Widths)
      for (int k = 0; k < critical::voting_count; ++k) s.half_width[k] = Real::load(width[k] + i);
    return s;
  }
};

/// What the quantities share, kept for one block; masks as the bits of their lanes.
template <class Real>
struct SharedBlock {
  using Shared = critical::Shared<Real>;
  double family[block_rows];
  double ac1[block_rows];
  std::int64_t hyper[block_rows];
  std::int64_t within[Shared::steps][block_rows];
  std::int64_t blank[block_rows];

  void store(const Shared& s, std::size_t i) {
    s.family.store(family + i);
    s.hyper.store(hyper + i);
    for (std::size_t k = 0; k < Shared::steps; ++k) s.within[k].store(within[k] + i);
    s.blank.store(blank + i);
  }
  Shared load(std::size_t i) const {
    Shared s;
    s.family = Real::load(family + i);
    s.hyper = Condition<Real>::load(hyper + i);
    for (std::size_t k = 0; k < Shared::steps; ++k) s.within[k] = Condition<Real>::load(within[k] + i);
    s.blank = critical::Bits<Real>::load(blank + i);
    return s;
  }
};

/// The end of a batch is computed as a full block into a buffer, and what belongs to the batch is copied.
struct TailBlock {
  double number[4][6][block_rows];
  std::uint64_t flags[6][block_rows];
};

/// The quantities one after the other, a short loop each: the processor then works on several packets at once.
template <class Real, bool Widths, bool Absent>
struct CriticalBlocks {
  SteelBlock<Real> steels;
  SharedBlock<Real> kept;

  critical::Steel<Real> steel(std::size_t i) const { return steels.template steel<Widths, Absent>(i); }

  static void put(const critical::Answer<Real>& a, const CriticalColumns& out, int q, std::size_t i) {
    Real square = a.square_formula;
    if constexpr (Widths) square = square + a.square_composition;
    Real half = sqrt(square);
    if constexpr (Absent) half = half + a.shift;
    a.value.store(out.value[q] + i);
    half.store(out.half_width[q] + i);
    a.bits.store(out.flags[q] + i);
    if (out.formula_part[q] == nullptr) return;
    sqrt(a.square_formula).store(out.formula_part[q] + i);
    // what the residuals widen belongs to the composition, and parts add in quadrature
    sqrt(larger(half * half - a.square_formula, Real(0.0))).store(out.composition_part[q] + i);
  }

  [[gnu::flatten]] void share() {
    for (std::size_t i = 0; i < block_rows; i += Real::lanes) kept.store(critical::shared_of<Absent>(steel(i)), i);
  }
  [[gnu::flatten]] void ac1(const CriticalColumns& out) {
    for (std::size_t i = 0; i < block_rows; i += Real::lanes) {
      const auto a = critical::join_ac1<Widths, Absent>(steel(i), kept.load(i));
      a.value.store(kept.ac1 + i);
      put(a, out, 0, i);
    }
  }
  [[gnu::flatten]] void ac3(const CriticalColumns& out) {
    for (std::size_t i = 0; i < block_rows; i += Real::lanes) {
      const auto shared = kept.load(i);
      auto a = critical::join<Widths, Absent>(critical::Ac3Votes{}, steel(i), shared);
      critical::one_side(a, Real::load(kept.ac1 + i), shared.hyper, shared);
      put(a, out, 1, i);
    }
  }
  [[gnu::flatten]] void acm(const CriticalColumns& out) {
    for (std::size_t i = 0; i < block_rows; i += Real::lanes) {
      const auto shared = kept.load(i);
      auto a = critical::join_acm<Widths, Absent>(steel(i), shared);
      critical::one_side(a, Real::load(kept.ac1 + i), !shared.hyper, shared);
      put(a, out, 2, i);
    }
  }
  [[gnu::flatten]] void ms_and_mf(const CriticalColumns& out) {
    for (std::size_t i = 0; i < block_rows; i += Real::lanes) {
      const auto one = steel(i);
      const auto shared = kept.load(i);
      auto ms = critical::join<Widths, Absent>(critical::MsVotes{}, one, shared);
      auto mf = critical::join_mf<Widths, Absent>(one, shared, ms);
      critical::say_bulk(ms, shared);
      critical::say_bulk(mf, shared);
      put(ms, out, 3, i);
      put(mf, out, 4, i);
    }
  }
  [[gnu::flatten]] void bs(const CriticalColumns& out) {
    for (std::size_t i = 0; i < block_rows; i += Real::lanes) {
      const auto shared = kept.load(i);
      auto a = critical::join<Widths, Absent>(critical::BsVotes{}, steel(i), shared);
      critical::say_bulk(a, shared);
      put(a, out, 5, i);
    }
  }

  /// A full block, written to columns that have room for it.
  void solve(const CriticalColumns& out) {
    share();
    ac1(out);
    ac3(out);
    acm(out);
    ms_and_mf(out);
    bs(out);
  }

  static void run(const Inputs& in, const Doubt& doubt, const CriticalColumns& out) {
    CriticalBlocks b;
    for_each_block<Real>(in.rows, [&](std::size_t first, std::size_t count) {
      b.steels.template fill<Widths, Absent>(in, doubt, first, count);
      count == block_rows ? b.solve(from_row(out, first)) : b.solve_tail(out, first, count);
      if (out.family != nullptr)
        for (std::size_t i = 0; i < count; ++i) out.family[first + i] = static_cast<std::uint8_t>(b.kept.family[i]);
    });
  }

 private:
  static CriticalColumns from_row(CriticalColumns out, std::size_t first) {
    for (int q = 0; q < 6; ++q) {
      out.value[q] += first;
      out.half_width[q] += first;
      out.flags[q] += first;
      if (out.formula_part[q] == nullptr) continue;
      out.formula_part[q] += first;
      out.composition_part[q] += first;
    }
    return out;
  }

  void solve_tail(const CriticalColumns& out, std::size_t first, std::size_t count) {
    TailBlock tail;
    CriticalColumns into{};
    for (int q = 0; q < 6; ++q) {
      into.value[q] = tail.number[0][q];
      into.half_width[q] = tail.number[1][q];
      into.flags[q] = tail.flags[q];
      into.formula_part[q] = tail.number[2][q];
      into.composition_part[q] = tail.number[3][q];
    }
    solve(into);
    for (int q = 0; q < 6; ++q) {
      std::memcpy(out.value[q] + first, into.value[q], count * sizeof(double));
      std::memcpy(out.half_width[q] + first, into.half_width[q], count * sizeof(double));
      std::memcpy(out.flags[q] + first, into.flags[q], count * sizeof(std::uint64_t));
      if (out.formula_part[q] == nullptr) continue;
      std::memcpy(out.formula_part[q] + first, into.formula_part[q], count * sizeof(double));
      std::memcpy(out.composition_part[q] + first, into.composition_part[q], count * sizeof(double));
    }
  }
};

/// Whether any amount that a vote reads has a half-width.
template <class Real>
bool any_half_width(const Doubt& doubt) {
  for (Element e : critical::voting_elements) {
    const Column& width = doubt.half_width[index(e)];
    if (width.data != nullptr || width.same != 0.0) return true;
  }
  return false;
}

/// Whether any element of which the votes want to know it was not stated in some row.
template <class Real>
bool any_not_stated(const Doubt& doubt, std::size_t rows) {
  constexpr auto missing = static_cast<std::uint8_t>(Stated::not_stated);
  for (Element e : SteelBlock<Real>::marked) {
    const StatedColumn& code = doubt.stated[index(e)];
    if (code.data == nullptr ? code.same == missing : std::memchr(code.data, missing, rows) != nullptr) return true;
  }
  return false;
}

template <class Real>
void critical_temperatures(const Inputs& in, const Doubt& doubt, const CriticalColumns& out) {
  if (any_half_width<Real>(doubt))
    any_not_stated<Real>(doubt, in.rows) ? CriticalBlocks<Real, true, true>::run(in, doubt, out)
                                         : CriticalBlocks<Real, true, false>::run(in, doubt, out);
  else
    any_not_stated<Real>(doubt, in.rows) ? CriticalBlocks<Real, false, true>::run(in, doubt, out)
                                         : CriticalBlocks<Real, false, false>::run(in, doubt, out);
}

}  // namespace decalesce::kernels
