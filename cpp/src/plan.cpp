#include "decalesce/plan.hpp"

#include <algorithm>

#include "decalesce/tables/usual_residuals.hpp"

namespace decalesce::plan {

namespace {

/// The published range as a window; a single printed temperature has the tolerance of the standard.
austenite::Window published_window(double coolest, double hottest) {
  const double tolerance = coolest == hottest ? tables::plan::published_window_half_K : 0.0;
  Parts parts{};
  parts[static_cast<std::size_t>(Part::table)] = tables::plan::published_window_half_K;
  const auto at = [&](double t) { return Estimate::banded(t, parts, Unit::celsius, Flag::published_window, {}); };
  austenite::Window w;
  w.coolest = at(coolest - tolerance);
  w.aim = at(0.5 * (coolest + hottest));
  w.hottest = at(hottest + tolerance);
  w.reasons = 1U << static_cast<unsigned>(austenite::Reason::no_rule);
  return w;
}

/// Whether the computed aim lies far outside the published range.
bool differs(const austenite::Window& computed, const austenite::Window& published) {
  const double aim = computed.aim.value;
  return aim < published.coolest.value - tables::plan::differs_from_published_K ||
         aim > published.hottest.value + tables::plan::differs_from_published_K;
}

void mark(austenite::Window& w, Flag flag) {
  for (Estimate* e : {&w.coolest, &w.aim, &w.hottest}) e->flags |= flag;
}

/// The window a plan works by: computed where a rule is safe and the published one of the grade agrees, else published.
void choose_window(const Question& q, Screen& s) {
  s.computed = austenite::window(q.steel);
  s.window = s.computed;
  if (q.standing == Standing::not_this_grade) return mark(s.window, Flag::not_this_grade);
  if (std::isnan(q.published_coolest_C)) return;
  const austenite::Window published = published_window(q.published_coolest_C, q.published_hottest_C);
  const bool computed = !std::isnan(s.window.aim.value);
  const bool apart = computed && differs(s.window, published);
  if (!computed || (apart && (q.air_hardening || q.standing == Standing::inside))) {
    s.window = published;
    if (computed) s.window.reasons = s.computed.reasons;
    s.window_published = true;
  } else if (apart) {
    mark(s.window, Flag::differs_from_published);
  }
}

/// Plain carbon steel hardens to a small depth whatever the quench.
bool middle_stays_soft(const Question& q, critical::Family family) {
  return (family == critical::Family::plain_hypo || family == critical::Family::plain_hyper) && q.section.valid() &&
         q.section.ruling() > tables::plan::shallow_section_mm * 1e-3;
}

/// Neither the hardness of a neighbour's martensite nor a temper of it says anything where a third of the steel may be
/// retained austenite. A target beyond full martensite of all the carbon is out of reach all the same; high-speed steel
/// hardens further by its carbides.
void withhold_quench(const Question& q, Flags refused, Screen& s) {
  const bool dissolved = !std::isnan(s.carbon_in_solution.value);
  // without carbon in solution the later rooms only say that they were given none
  const Flags why = Flag::no_model | (dissolved ? refused : s.carbon_in_solution.flags);
  s.quenched.hardness_HRC = Estimate::missing(
      Unit::hrc, dissolved ? why | s.quenched.hardness_HRC.flags | s.quenched.retained_austenite.flags : why);
  const Estimate most = hardness::full_martensite(q.steel.amount.C, q.steel.half_width[index(Element::C)]);
  const bool above = s.critical.family != critical::Family::high_speed && q.target_HRC > most.high;
  s.temper.temperature_C = Estimate::missing(Unit::celsius, above ? why | Flag::target_above_reach : why);
}

}  // namespace

Screen screen(const Question& q) {
  Screen s;
  s.critical = critical::temperatures(q.steel);
  choose_window(q, s);
  const bool sized = q.section.valid();
  const Section section =
      sized ? q.section : Section{Shape::plate, tables::plan::assumed_thickness_mm * 1e-3, 0.0, 0.0, 0.0};
  s.soak = heating::soak(section, q.steel, q.furnace, s.window.aim.value);
  if (!sized)
    for (Estimate* e : {&s.soak.heat_up_s, &s.soak.equalize_s, &s.soak.hold_s}) e->flags |= Flag::section_assumed;

  if (std::isnan(s.window.aim.value) || std::isnan(s.soak.hold_s.value)) {
    const Flags why = s.window.aim.flags | s.soak.hold_s.flags;
    s.carbon_in_solution = Estimate::missing(Unit::wt_percent, why);
    s.quenched.hardness_HRC = Estimate::missing(Unit::hrc, why);
    s.quenched.martensite = Estimate::missing(Unit::fraction, why);
    s.quenched.retained_austenite = Estimate::missing(Unit::fraction, why);
    s.temper.temperature_C = Estimate::missing(Unit::celsius, why);
    return s;
  }
  const austenite::Dissolved dissolved =
      austenite::dissolve(q.steel, austenite::soak_at(s.window.aim.value, s.soak.hold_s.value));
  s.carbon_in_solution = dissolved.carbon;
  s.quenched = quench::fully_hardened(dissolved.austenite);
  if (middle_stays_soft(q, s.critical.family)) s.quenched.hardness_HRC.flags |= Flag::middle_stays_soft;
  const temper::Temperable steel(s.quenched);
  if (!critical::formula_safe(s.critical.family) && std::isnan(s.quenched.retained_austenite.value))
    withhold_quench(q, steel.refused(), s);
  else if (!steel.refused().empty())
    s.temper.temperature_C = Estimate::missing(Unit::celsius, q.target_HRC > s.quenched.hardness_HRC.high
                                                                  ? steel.refused() | Flag::target_above_reach
                                                                  : steel.refused());
  else if (std::isnan(q.target_HRC))
    s.temper.temperature_C = Estimate::missing(Unit::celsius, Flag::input_not_given);
  else
    s.temper = temper::temperature_for(steel, q.target_HRC, q.temper_time_s * q.tempers, q.embrittles_back);
  return s;
}

std::vector<Blame> blame(const Question& question) {
  const std::array<double, element_count> ac1_slopes = critical::ac1_slopes(question.steel);
  std::vector<Blame> all;
  for_each_element([&](Element e) {
    const std::size_t k = index(e);
    double half = question.steel.half_width[k];
    double low = std::max(question.steel.amount[e] - half, 0.0);
    double high = question.steel.amount[e] + half;
    if (question.steel.stated[k] == Stated::not_stated && !std::isnan(tables::usual_residual_wt_pct[k])) {
      half = 0.5 * tables::usual_residual_wt_pct[k];
      low = 0.0;
      high = tables::usual_residual_wt_pct[k];
    }
    if (!(half > 0.0)) return;
    Question down = question;
    Question up = question;
    down.steel.amount[e] = low;
    up.steel.amount[e] = high;
    const Screen a = screen(down);
    const Screen b = screen(up);
    const auto half_of = [](double x, double y) { return 0.5 * std::abs(x - y); };
    all.push_back({e, half, std::abs(ac1_slopes[k]) * half, half_of(a.window.aim.value, b.window.aim.value),
                   half_of(a.quenched.hardness_HRC.value, b.quenched.hardness_HRC.value),
                   half_of(a.temper.temperature_C.value, b.temper.temperature_C.value)});
  });
  const auto size = [](const Blame& b) {
    const auto known = [](double x) { return std::isnan(x) ? 0.0 : x; };
    return known(b.temper_K) + known(b.aim_K) + known(b.ac1_K);
  };
  std::sort(all.begin(), all.end(), [&](const Blame& a, const Blame& b) { return size(a) > size(b); });
  return all;
}

}  // namespace decalesce::plan
