#include "decalesce/laws/critical.hpp"

#include "decalesce/laws/critical_join.hpp"

namespace decalesce::critical {

namespace {

template <class... Formulas>
Sources sources_of(published::FormulaList<Formulas...>) {
  Sources s;
  (s.add(Formulas::record.citation), ...);
  return s;
}

Estimate estimate(const Answer<double>& a, const Sources& sources) {
  Estimate e;
  const double formula = std::sqrt(a.square_formula);
  const bool alone = a.square_composition == 0.0 && a.shift == 0.0;
  const double half = alone ? formula : std::sqrt(a.square_formula + a.square_composition) + a.shift;
  e.value = a.value;
  e.low = a.value - half;
  e.high = a.value + half;
  e.unit = Unit::celsius;
  e.flags = Flags::from_bits(a.bits.set);
  e.parts[static_cast<std::size_t>(Part::formula)] = formula;
  if (!alone)
    e.parts[static_cast<std::size_t>(Part::composition)] = std::sqrt(larger(half * half - a.square_formula, 0.0));
  e.sources = sources;
  return e;
}

/// The steel as the votes want it, and which of its doubts there are at all.
struct Case {
  Steel<double> steel;
  bool widths = false;
  bool absent = false;
};

Case case_of(const Composition& steel) {
  const auto absent = [&](Element e) { return steel.stated[index(e)] == Stated::not_stated; };
  Case c{{steel.amount,
          {absent(Element::C), absent(Element::Mn), absent(Element::Cr), absent(Element::Ni), absent(Element::Mo),
           absent(Element::Cu)},
          {}}};
  const NotStated<double>& n = c.steel.absent;
  c.absent = n.C || n.Mn || n.Cr || n.Ni || n.Mo || n.Cu;
  for (int k = 0; k < voting_count; ++k) {
    c.steel.half_width[k] = steel.half_width[index(voting_elements[k])];
    c.widths = c.widths || c.steel.half_width[k] != 0.0;
  }
  return c;
}

/// Calls `solve<Widths, Absent>(steel)` with what the case needs and no more.
template <class Solve>
auto solved(const Case& c, Solve&& solve) {
  if (c.widths)
    return c.absent ? solve.template operator()<true, true>(c.steel) : solve.template operator()<true, false>(c.steel);
  return c.absent ? solve.template operator()<false, true>(c.steel) : solve.template operator()<false, false>(c.steel);
}

}  // namespace

const SourcesOfQuantities& sources() {
  static const SourcesOfQuantities all = [] {
    SourcesOfQuantities s{sources_of(Ac1Votes{}), sources_of(Ac3Votes{}), Sources(Citation::Gustafson1985),
                          sources_of(MsVotes{}),  sources_of(MsVotes{}),  sources_of(BsVotes{})};
    return s;
  }();
  return all;
}

Temperatures temperatures(const Composition& steel) {
  return solved(case_of(steel), []<bool Widths, bool Absent>(const Steel<double>& s) -> Temperatures {
    const Shared<double> shared = shared_of<Absent>(s);
    Answer<double> answer[quantities];
    joined<Widths, Absent>(s, shared, answer);
    const auto& [ac1, ac3, acm, ms, mf, bs] = answer;
    const SourcesOfQuantities& from = sources();
    return {estimate(ac1, from.ac1),
            estimate(ac3, from.ac3),
            estimate(acm, from.acm),
            estimate(ms, from.ms),
            estimate(mf, from.mf),
            estimate(bs, from.bs),
            static_cast<Family>(static_cast<int>(shared.family))};
  });
}

Estimate martensite_start(const Composition& steel) {
  return solved(case_of(steel), []<bool Widths, bool Absent>(const Steel<double>& s) {
    const Shared<double> shared = shared_of<Absent>(s);
    Answer<double> ms = join<Widths, Absent>(MsVotes{}, s, shared);
    say_bulk(ms, shared);
    return estimate(ms, sources().ms);
  });
}

std::array<double, element_count> ac1_slopes(const Composition& steel) {
  std::array<double, element_count> slopes{};
  for (int k = 0; k < voting_count; ++k) {
    Steel<double> s{steel.amount, {}, {}};
    s.half_width[k] = 1.0;
    const Answer<double> a = join_ac1<true, false>(s, shared_of<false>(s));
    // the band of a uniform half-width of 1 wt % holds the slope: z^2/3 times its square
    slopes[index(voting_elements[k])] = std::sqrt(3.0 * a.square_composition) / table::normal_90;
  }
  return slopes;
}

}  // namespace decalesce::critical
