#pragma once
// Who votes on the critical temperatures, and the values that pass between the steps of the joining.
#include <cstddef>
#include <cstdint>
#include <cstring>

#include "../ground/flags.hpp"
#include "../ground/packet_pair.hpp"
#include "../ground/weight_percent.hpp"
#include "../published/ac1.hpp"
#include "../published/ac3.hpp"
#include "../published/bs.hpp"
#include "../published/mf.hpp"
#include "../published/ms.hpp"

namespace decalesce::critical {

/// The formulas that vote; data/tables/formulas.csv says why the others do not.
using Ac1Votes =
    published::FormulaList<published::Ac1Andrews1965, published::Ae1Grange1961, published::Ac1TrzaskaDobrzanski2007>;
using Ac3Votes = published::FormulaList<published::Ac3Andrews1965Major, published::Ae3Grange1961,
                                        published::Ae3Eldis1978, published::Ac3TrzaskaDobrzanski2007>;
using MsVotes = published::FormulaList<published::MsAndrews1965Linear, published::MsStevenHaynes1956,
                                       published::MsStevenHaynes1956HighCarbon, published::MsPaysonSavage1944,
                                       published::MsEldis1978, published::MsCapdevila2002, published::MsVanBohemen2012>;
using BsVotes =
    published::FormulaList<published::BsStevenHaynes1956, published::BsVanBohemen2012, published::BsLee2002>;

/// Flags, one set a steel.
template <class Real>
struct Bits;
template <>
struct Bits<double> {
  std::uint64_t set = 0;
  void say(bool condition, Flag what) { set |= condition ? Flags::bit(what) : 0; }
  static Bits choose(bool condition, const Bits& yes, const Bits& no) { return condition ? yes : no; }
};
template <int Lanes>
struct Bits<Packet<Lanes>> {
  using Integers = typename Packet<Lanes>::Integers;
  Integers set = {};
  void say(const Mask<Lanes>& condition, Flag what) {
    set |= condition.bits & static_cast<std::int64_t>(Flags::bit(what));
  }
  static Bits choose(const Mask<Lanes>& condition, const Bits& yes, const Bits& no) {
    return {no.set ^ (condition.bits & (yes.set ^ no.set))};
  }
  template <class Word>
  static Bits load(const Word* from) {
    Bits b;
    std::memcpy(&b.set, from, sizeof(Integers));
    return b;
  }
  template <class Word>
  void store(Word* to) const {
    static_assert(sizeof(Word) == sizeof(std::uint64_t));
    std::memcpy(to, &set, sizeof(Integers));
  }
};
template <class P>
struct Bits<PacketPair<P>> {
  using Condition = typename PacketPair<P>::Comparison;
  Bits<P> first, second;
  void say(const Condition& condition, Flag what) {
    first.say(condition.first, what);
    second.say(condition.second, what);
  }
  static Bits choose(const Condition& condition, const Bits& yes, const Bits& no) {
    return {Bits<P>::choose(condition.first, yes.first, no.first),
            Bits<P>::choose(condition.second, yes.second, no.second)};
  }
  template <class Word>
  static Bits load(const Word* from) {
    return {Bits<P>::load(from), Bits<P>::load(from + P::lanes)};
  }
  template <class Word>
  void store(Word* to) const {
    first.store(to);
    second.store(to + P::lanes);
  }
};

template <class Real>
struct Answer {
  Real value;
  Real square_formula;      // squares of the half-width's parts, 90 %, K^2
  Real square_composition;  // without the residual shift
  Real shift;               // widening by assumed residuals, K
  Bits<Real> bits;
};

/// Elements of which the votes know that they were not stated.
template <class Real>
struct NotStated {
  Condition<Real> C, Mn, Cr, Ni, Mo, Cu;
};

/// The elements a voting formula reads; the composition band has one direction for each.
inline constexpr Element voting_elements[] = {Element::C,  Element::Mn, Element::Si, Element::Cr,
                                              Element::Ni, Element::Mo, Element::V,  Element::W,
                                              Element::Cu, Element::Co, Element::As};
inline constexpr int voting_count = 11;

template <class Real>
struct Steel {
  WeightPercent<Real> w;
  NotStated<Real> absent;
  Real half_width[voting_count];
};

}  // namespace decalesce::critical
