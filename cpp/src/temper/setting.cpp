#include "decalesce/temper/setting.hpp"

#include <boost/math/tools/roots.hpp>
#include <cstdint>

namespace decalesce::temper {

namespace {

constexpr int root_bits = 45;
constexpr std::uintmax_t most_steps = 100;
// The target is sought this much softer, so that on a level stretch of the curve the hot end is found.
constexpr double level_HV = 1e-7;

class Search {
 public:
  Search(const Temperable& steel, double total_s) : steel_(steel), total_s_(total_s) {
    const double constant = tables::temper_constant_grange_baughman.constant_hours;
    const auto temperature = [&](double P18) {
      return equivalent_temperature_C(P18 / rankine_per_kelvin, total_s, constant);
    };
    coolest_ = std::max(temperature(SofteningCurve::least_P18), tables::temper_model_coolest_temper_C);
    // Just below Ac1: at Ac1 there is no temper.
    hottest_ = std::min(temperature(SofteningCurve::most_P18), std::nextafter(steel.ac1_C(), 0.0));
    if (HV(hottest_) < softest_scale_HV()) hottest_ = solve(softest_scale_HV() + 2.0 * level_HV);
  }

  double HV(double temperature_C) const { return steel_.HV(parameter_P18(temperature_C, total_s_)); }
  double coolest() const { return coolest_; }
  double hottest() const { return hottest_; }

  /// Hottest temper that leaves a hardness; the end of the range where it lies outside.
  double solve(double target_HV) const {
    const auto excess = [&](double temperature_C) { return HV(temperature_C) - target_HV + level_HV; };
    const double cool = excess(coolest_);
    const double hot = excess(hottest_);
    if (cool <= 0.0) return coolest_;
    if (hot >= 0.0) return hottest_;
    std::uintmax_t steps = most_steps;
    const auto bracket = boost::math::tools::toms748_solve(excess, coolest_, hottest_, cool, hot,
                                                           boost::math::tools::eps_tolerance<double>(root_bits), steps);
    return 0.5 * (bracket.first + bracket.second);
  }

  double solve_HRC(double target_HRC) const {
    const double least = tables::astm_e140_hrc_HRC.back();
    const double most = tables::astm_e140_hrc_HRC.front();
    return solve(scales::hv_from_hrc(std::clamp(target_HRC, least, most)));
  }

 private:
  static double softest_scale_HV() { return tables::astm_e140_hrc_HV.back(); }

  const Temperable& steel_;
  double total_s_;
  double coolest_ = NAN;
  double hottest_ = NAN;
};

/// Whether the tempers that stay within one reading of the target reach into a range.
bool reaches(const Setting& s, const tables::TemperRule& range) {
  return s.stays_from_C <= range.high_C && s.stays_to_C >= range.low_C;
}

}  // namespace

Setting temperature_for(const Temperable& steel, double target_HRC, double total_s, bool embrittles_back) {
  Setting s;
  const auto none = [&](Flags why) {
    s.temperature_C = Estimate::missing(Unit::celsius, why);
    return s;
  };
  if (!steel.refused().empty()) return none(steel.refused());
  if (std::isnan(target_HRC) || std::isnan(total_s)) return none(Flag::nan_input);
  if (total_s <= 0.0) return none(Flag::impossible_input);
  const double target_HV = scales::hv_from_hrc(target_HRC);
  if (std::isnan(target_HV)) return none(Flag::off_scale);

  const Search search(steel, total_s);
  s.coolest_C = search.coolest();
  s.hottest_C = search.hottest();
  s.hardest_HRC = scales::hrc_from_hv(search.HV(s.coolest_C));
  s.softest_HRC = scales::hrc_from_hv(search.HV(s.hottest_C));
  if (target_HV > search.HV(s.coolest_C)) return none(Flag::target_above_reach);
  if (target_HV < search.HV(s.hottest_C) - 2.0 * level_HV) return none(Flag::target_below_reach);

  const double temperature_C = search.solve(target_HV);
  const Estimate there = steel.after(hold_of(temperature_C, total_s));
  s.hardness_HRC = there.value;
  s.stays_from_C = search.solve_HRC(target_HRC + tables::temper_model_reading_HRC);
  s.stays_to_C = search.solve_HRC(target_HRC - tables::temper_model_reading_HRC);
  Estimate& t = s.temperature_C;
  t.value = temperature_C;
  const double half_HRC = there.value - there.low;  // the upper end may be cut at the as-quenched hardness
  t.low = search.solve_HRC(target_HRC + half_HRC);
  t.high = search.solve_HRC(target_HRC - half_HRC);
  t.flags = there.flags;
  if (t.low <= s.coolest_C || t.high >= s.hottest_C) t.flags |= Flag::band_clipped;
  if (target_HRC > steel.as_quenched_HRC() - tables::temper_model_barely_tempered_HRC) t.flags |= Flag::barely_tempered;
  if (reaches(s, hardness_detail::embrittlement)) t.flags |= Flag::embrittlement_range;
  if (embrittles_back && reaches(s, hardness_detail::reversible)) t.flags |= Flag::reversible_embrittlement;
  t.sources = there.sources;
  // The half-width in kelvin, shared out as the hardness band was.
  const double per_HRC = half_HRC > 0.0 ? t.half_width() / half_HRC : 0.0;
  for (std::size_t k = 0; k < part_count; ++k) t.parts[k] = there.parts[k] * per_HRC;
  return s;
}

}  // namespace decalesce::temper
