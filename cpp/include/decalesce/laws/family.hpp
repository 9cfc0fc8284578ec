#pragma once
// The family of a steel from its composition alone, never from a grade's name. Borders:
// data/tables/critical_families.csv.
#include <array>
#include <cstdint>
#include <iterator>
#include <string_view>

#include "../ground/scalar.hpp"
#include "../ground/weight_percent.hpp"
#include "../tables/critical.hpp"

namespace decalesce::critical {

/// The families that have safe formulas come first.
enum class Family : std::uint8_t {
  plain_hypo,
  plain_hyper,
  low_alloy,
  hyper_low_alloy,
  silicon_spring,
  tool_3_5_cr,
  tool_11_13_cr,
  martensitic_stainless,
  high_speed,
  austenitic_other,
};
inline constexpr std::size_t family_count = 10;
inline constexpr std::array<std::string_view, family_count> family_names{
    "plain_hypo",    "plain_hyper",           "low_alloy",  "hyper_low_alloy", "silicon_spring", "tool_3_5_cr",
    "tool_11_13_cr", "martensitic_stainless", "high_speed", "austenitic_other"};

inline constexpr std::size_t families_with_safe_formulas = 5;
/// Whether published formulas for critical temperatures are safe for the family.
constexpr bool formula_safe(Family f) { return static_cast<std::size_t>(f) < families_with_safe_formulas; }

/// Carbon of the eutectoid, wt %; computed Fe-C value moved by the alloy, good to about 0.02 wt %. [Gustafson1985]
template <class Real>
constexpr Real eutectoid_carbon(const WeightPercent<Real>& w) {
  namespace t = tables::critical;
  return t::eutectoid_carbon + t::eutectoid_slope_Mn * w.Mn + t::eutectoid_slope_Si * w.Si +
         t::eutectoid_slope_Cr * w.Cr + t::eutectoid_slope_Ni * w.Ni + t::eutectoid_slope_Mo * w.Mo +
         t::eutectoid_slope_W * w.W;
}

/// What counts as alloy when a steel is called rich.
inline constexpr Element alloying_elements[] = {Element::Mn, Element::Si, Element::Cr, Element::Ni, Element::Mo,
                                                Element::V,  Element::W,  Element::Cu, Element::Co, Element::Al};

/// Their sum, in pairs, so that no long chain has to be waited for.
template <class Real>
constexpr Real alloy_content(const WeightPercent<Real>& w) {
  return ((w.Mn + w.Si) + (w.Cr + w.Ni)) + ((w.Mo + w.V) + (w.W + w.Cu)) + (w.Co + w.Al);
}

/// Number of the family, as `Real` so that packets carry one a lane. Later lines overrule earlier ones. A NaN in an
/// amount that decides gives whatever the comparisons give: test for NaN before.
template <Scalar Real>
constexpr Real family_number(const WeightPercent<Real>& w) {
  namespace t = tables::critical;
  const auto number = [](Family f) { return Real(static_cast<double>(f)); };
  const Condition<Real> hyper = w.C > eutectoid_carbon(w);
  const Condition<Real> plain = (w.Mn < Real(t::plain_hypo_Mn_below)) & (w.Si < Real(t::plain_hypo_Si_below)) &
                                (w.Cr < Real(t::plain_hypo_Cr_below)) & (w.Ni < Real(t::plain_hypo_Ni_below)) &
                                (w.Mo < Real(t::plain_hypo_Mo_below)) & (w.V < Real(t::plain_hypo_V_below)) &
                                (w.W < Real(t::plain_hypo_W_below)) & (w.Cu < Real(t::plain_hypo_Cu_below)) &
                                (w.Co < Real(t::plain_hypo_Co_below)) & (w.Al < Real(t::plain_hypo_Al_below));
  Real code = select(plain, select(hyper, number(Family::plain_hyper), number(Family::plain_hypo)),
                     select(hyper, number(Family::hyper_low_alloy), number(Family::low_alloy)));
  code = select(w.Si > Real(t::silicon_spring_Si_above), number(Family::silicon_spring), code);

  const Real rich_in_one(t::austenitic_other_largest_at_least);
  const Condition<Real> rich = ((w.Mn >= rich_in_one) | (w.Si >= rich_in_one) | (w.Cr >= rich_in_one)) |
                               ((w.Ni >= rich_in_one) | (w.Mo >= rich_in_one) | (w.V >= rich_in_one)) |
                               ((w.W >= rich_in_one) | (w.Cu >= rich_in_one) | (w.Co >= rich_in_one)) |
                               ((w.Al >= rich_in_one) | (alloy_content(w) > Real(t::austenitic_other_sum_above)));
  code = select(rich, number(Family::austenitic_other), code);

  const Condition<Real> hot_work =
      (w.Cr >= Real(t::tool_3_5_cr_Cr_at_least)) & (w.C >= Real(t::tool_3_5_cr_C_at_least));
  code = select(hot_work, number(Family::tool_3_5_cr), code);
  const Condition<Real> ledeburitic =
      (w.Cr >= Real(t::tool_11_13_cr_Cr_at_least)) & (w.C >= Real(t::tool_11_13_cr_C_at_least));
  code = select(ledeburitic, number(Family::tool_11_13_cr), code);
  const Condition<Real> stainless = (w.Cr >= Real(t::martensitic_stainless_Cr_at_least)) &
                                    (w.C <= Real(t::martensitic_stainless_C_at_most)) &
                                    (w.C >= Real(t::martensitic_stainless_C_at_least));
  code = select(stainless, number(Family::martensitic_stainless), code);
  const Condition<Real> austenitic =
      (w.Ni >= Real(t::austenitic_other_Ni_at_least)) | (w.Mn >= Real(t::austenitic_other_Mn_at_least));
  code = select(austenitic, number(Family::austenitic_other), code);
  const Condition<Real> high_speed =
      (w.C >= Real(t::high_speed_C_at_least)) & (w.Cr >= Real(t::high_speed_Cr_at_least)) &
      (w.Cr <= Real(t::high_speed_Cr_at_most)) & (w.Mo + w.W + w.V >= Real(t::high_speed_Mo_W_V_at_least));
  return select(high_speed, number(Family::high_speed), code);
}

constexpr Family family(const WeightPercent<double>& w) {
  return static_cast<Family>(static_cast<int>(family_number(w)));
}

}  // namespace decalesce::critical
