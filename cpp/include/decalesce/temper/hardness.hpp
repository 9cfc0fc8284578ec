#pragma once
// Hardness after a temper: the softening of the martensite, never above the as-quenched hardness, with a band from
// steels left out of the fit. Only this header knows which softening model answers.
#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>

#include "../ground/as_quenched.hpp"
#include "../published/ac1.hpp"
#include "../scales.hpp"
#include "../tables/martensite_rules.hpp"
#include "../tables/temper_bands.hpp"
#include "../tables/temper_model.hpp"
#include "../tables/temper_rules.hpp"
#include "equivalent.hpp"
#include "softening.hpp"

namespace decalesce::temper {

/// What the hardness needs to know of a temper, be it one hold, several, or a history.
struct Hold {
  double P18 = NAN;
  double peak_C = NAN;
  double total_s = NAN;
};

inline Hold hold_of(double temperature_C, double time_s) {
  return {parameter_P18(temperature_C, time_s), temperature_C, time_s};
}

/// Of a state that was carried with the constant 18.
inline Hold hold_of(const TemperState& state) {
  return {rankine_per_kelvin * state.parameter(), state.peak_C(), state.total_s()};
}

namespace hardness_detail {

/// HV of one HRC at a hardness; the ends of the scale hold outside.
inline double HV_per_HRC(double HV) {
  const auto& t = scales::scales_detail::e140_hrc_hv;
  const auto above = std::upper_bound(t.y.begin() + 1, t.y.end() - 1, HV);
  const auto i = static_cast<std::size_t>(above - t.y.begin());
  return (t.y[i] - t.y[i - 1]) / (t.x[i] - t.x[i - 1]);
}

constexpr const tables::TemperRule& rule(std::string_view id) {
  for (const tables::TemperRule& r : tables::temper_rules)
    if (r.id == id) return r;
  return tables::temper_rules.front();
}
inline constexpr const tables::TemperRule& embrittlement = rule("embrittlement_flagged");
static_assert(embrittlement.id == "embrittlement_flagged");
inline constexpr const tables::TemperRule& reversible = rule("reversible_temper_embrittlement");
static_assert(reversible.id == "reversible_temper_embrittlement");

constexpr std::size_t band_family(std::string_view name) {
  std::size_t k = 0;
  while (tables::temper_band_families[k] != name) ++k;
  return k;
}

inline std::size_t family_of(const WeightPercent<double>& w) {
  const auto& carbons = tables::temper_base_carbon_wt_pct;
  constexpr std::size_t edge = band_family("edge_carbon");
  constexpr std::size_t plain = band_family("plain");
  constexpr std::size_t low_alloy = band_family("low_alloy");
  if (w.C < carbons.front() || w.C > carbons.back()) return edge;
  const bool lean = w.Mn <= tables::temper_model_plain_most_Mn && w.Si <= tables::temper_model_plain_most_Si &&
                    w.Ni <= tables::temper_model_plain_most_Ni && w.Cr <= tables::temper_model_plain_most_Cr &&
                    w.Mo <= tables::temper_model_plain_most_Mo && w.V <= tables::temper_model_plain_most_V;
  return lean ? plain : low_alloy;
}

/// Half-width in HRC that held nine of ten rows of steels left out of the fit.
inline double band_HRC(std::size_t family, double P18) {
  const double bracket = tables::temper_constant_grange_baughman.constant_hours * rankine_per_kelvin;
  const double one_hour_C = celsius_from_kelvin(1000.0 * P18 / bracket);
  return softening_detail::line(tables::temper_band_one_hour_C, tables::temper_band_half_width_HRC[family], one_hour_C);
}

}  // namespace hardness_detail

/// One steel as quenched, ready to be tempered many times.
class Temperable {
 public:
  explicit Temperable(const AsQuenched& q)
      : Temperable(q.austenite.in_solution, q.hardness_HRC.value, q.hardness_HRC.half_width(),
                   q.retained_austenite.value, q.austenite.carbon_half_width, q.hardness_HRC.flags) {}

  /// `hardness_HRC` as quenched; `retained_austenite` as a fraction, NaN where not known.
  Temperable(const Composition& in_solution, double hardness_HRC, double half_width_HRC = 0.0,
             double retained_austenite = NAN, double carbon_half_width = 0.0, Flags from_quench = {})
      : curve_(in_solution, carbon_half_width),
        as_quenched_HV_(scales::hv_from_hrc(hardness_HRC)),
        as_quenched_HRC_(hardness_HRC),
        as_quenched_half_HRC_(half_width_HRC > 0.0 ? half_width_HRC : 0.0),
        ac1_C_(published::Ac1Andrews1965{}(in_solution.amount, Given<double>{})),
        family_(hardness_detail::family_of(in_solution.amount)),
        from_quench_(from_quench) {
    const WeightPercent<double>& w = in_solution.amount;
    flags_ = Flag::derived | Flags(Flag::screen_detail);
    if (curve_.uses_chart()) flags_ |= Flag::from_memory;
    if (retained_austenite > tables::martensite_rules::much_retained)
      flags_ |= Flag::retained_austenite;
    else if (retained_austenite > tables::temper_model_retained_austenite_matters)
      flags_ |= Flag::some_retained_austenite;
    judge_inputs(in_solution, hardness_HRC);
    judge_alloy(w);
    sources_ = Sources(Citation::RaiipaTempering2024);
    if (curve_.uses_chart()) sources_.add(Citation::GrangeBaughman1956);
  }

  /// Why there is no answer for this steel whatever the temper; empty when there is one.
  Flags refused() const { return refused_; }
  double ac1_C() const { return ac1_C_; }
  double as_quenched_HRC() const { return as_quenched_HRC_; }

  /// HV after a temper, without flags; for root finding.
  double HV(double P18) const { return std::min(curve_.HV(P18), as_quenched_HV_); }

  /// Hardness after a temper in HRC or HV. `temperature_half_width_K`: how far the oven may be off.
  Estimate after(const Hold& hold, Unit unit = Unit::hrc, double temperature_half_width_K = 0.0) const {
    if (!refused_.empty()) return Estimate::missing(unit, refused_);
    if (std::isnan(hold.P18) || std::isnan(hold.peak_C))
      return Estimate::missing(unit, hold.total_s <= 0.0 ? Flag::impossible_input : Flag::nan_input);
    if (hold.peak_C >= ac1_C_) return Estimate::missing(unit, Flag::temper_near_ac1);

    const Softened s = curve_.at(hold.P18);
    const bool capped = s.HV >= as_quenched_HV_;
    const double HV = capped ? as_quenched_HV_ : s.HV;
    const double scale = unit == Unit::hrc ? 1.0 : hardness_detail::HV_per_HRC(HV);
    const double per_HV = scale / hardness_detail::HV_per_HRC(HV);
    double formula = hardness_detail::band_HRC(family_, hold.P18);
    Flags flags = flags_;
    if (capped) {
      formula = std::max(formula, as_quenched_half_HRC_);
      flags |= from_quench_;
    }
    Parts parts{};
    parts[static_cast<std::size_t>(Part::formula)] = formula * scale;
    if (!capped) parts[static_cast<std::size_t>(Part::composition)] = s.composition_half_width * per_HV;
    if (!capped && s.unstated_half_width > tables::temper_model_reading_HRC / 2.0 * hardness_detail::HV_per_HRC(HV))
      flags |= Flag::residual_assumed;
    if (temperature_half_width_K > 0.0) {
      const double shift = hold.P18 * temperature_half_width_K / kelvin_from_celsius(hold.peak_C);
      const double span = this->HV(hold.P18 - shift) - this->HV(hold.P18 + shift);
      parts[static_cast<std::size_t>(Part::temperature)] = 0.5 * span * per_HV;
    }
    if (hold.P18 < SofteningCurve::least_P18 || hold.P18 > SofteningCurve::most_P18 ||
        hold.total_s < tables::temper_model_shortest_time_s || hold.total_s > tables::temper_model_longest_time_s)
      flags |= Flag::outside_table;
    if (hold.peak_C >= hardness_detail::embrittlement.low_C && hold.peak_C <= hardness_detail::embrittlement.high_C)
      flags |= Flag::embrittlement_range;
    Sources sources = sources_;
    if (unit == Unit::hv) return capped_by_quench(Estimate::banded(HV, parts, unit, flags, sources), as_quenched_HV_);
    const double HRC = scales::hrc_from_hv(HV);
    if (std::isnan(HRC)) return Estimate::missing(unit, flags | Flags(Flag::off_scale));
    sources.add(Citation::ASTM_E140);
    return capped_by_quench(Estimate::banded(HRC, parts, unit, flags, sources), as_quenched_HRC_);
  }

 private:
  /// Tempering does not harden: the band ends where that of the quench does, or where a good reading of it would.
  Estimate capped_by_quench(Estimate e, double as_quenched) const {
    const double half_HRC = std::max(as_quenched_half_HRC_, tables::temper_model_reading_HRC);
    const double per_HRC = e.unit == Unit::hrc ? 1.0 : hardness_detail::HV_per_HRC(as_quenched_HV_);
    e.high = std::min(e.high, as_quenched + half_HRC * per_HRC);
    return e;
  }

  void judge_inputs(const Composition& in_solution, double hardness_HRC) {
    const WeightPercent<double>& w = in_solution.amount;
    double sum = 0.0;
    bool impossible = false;
    for_each_element([&](Element e) {
      sum += w[e];
      impossible = impossible || w[e] < 0.0;
    });
    // a quench without an answer says why itself
    if (std::isnan(sum) || (std::isnan(hardness_HRC) && from_quench_.empty())) refused_ |= Flag::nan_input;
    if (std::isnan(sum) || std::isnan(hardness_HRC)) refused_ |= from_quench_;
    if (impossible || sum > 100.0) refused_ |= Flag::impossible_input;
    if (!std::isnan(hardness_HRC) && std::isnan(as_quenched_HV_)) refused_ |= Flag::off_scale;
    if (in_solution.stated[index(Element::C)] == Stated::not_stated) refused_ |= Flag::carbon_not_stated;
  }

  void judge_alloy(const WeightPercent<double>& w) {
    using namespace softening_detail;
    const double margin = 1.0 + tables::temper_model_margin_over_limit;
    bool no_figure = w.W > tables::temper_model_most_W || w.C < tables::temper_model_least_carbon ||
                     w.C > tables::temper_model_most_carbon;
    for (std::size_t e = 0; e < alloys; ++e) {
      const Element element = alloy_elements[e];
      const double most = std::max(tables::fit_open_rows_max_wt_pct[e], tables::grange_baughman_1956_max_wt_pct[e]);
      const bool carbide_former = element == Element::Cr || element == Element::Mo || element == Element::V;
      if (w[element] > most) flags_ |= Flag::outside_range;
      if (carbide_former && w[element] > most * margin) no_figure = true;
    }
    const auto& carbons = tables::temper_base_carbon_wt_pct;
    if (w.C < carbons.front() || w.C > carbons.back()) flags_ |= Flag::outside_range;
    if (no_figure) refused_ |= Flag::no_model;
    if (w.Cr >= tables::temper_model_secondary_Cr || w.Mo >= tables::temper_model_secondary_Mo ||
        w.V >= tables::temper_model_secondary_V || w.W >= tables::temper_model_secondary_W)
      refused_ |= Flag::secondary_hardening | Flags(Flag::no_model);
  }

  SofteningCurve curve_;
  double as_quenched_HV_;
  double as_quenched_HRC_;
  double as_quenched_half_HRC_;
  double ac1_C_;
  std::size_t family_;
  Flags from_quench_;
  Flags flags_{};
  Flags refused_{};
  Sources sources_{};
};

/// Hardness after a temper. NaN with the reason where the model has no answer; Rockwell C ends at 20.
inline Estimate hardness(const AsQuenched& q, const Hold& hold, Unit unit = Unit::hrc,
                         double temperature_half_width_K = 0.0) {
  return Temperable(q).after(hold, unit, temperature_half_width_K);
}

}  // namespace decalesce::temper
