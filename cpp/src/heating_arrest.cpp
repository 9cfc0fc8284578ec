#include "decalesce/heating/arrest.hpp"

#include <algorithm>
#include <stdexcept>
#include <string>

#include "decalesce/tables/arrest_rules.hpp"
#include "heating_arrest_fit.hpp"

namespace decalesce::heating {

namespace {

namespace rules = tables::arrest_rules;
using arrest_fit::Rates;
using arrest_fit::Readings;

/// A dip of the rate in a step of the ladder; temperatures and rates carry the sign of the direction.
struct Dip {
  double half_width = NAN;  // of the window of its step of the ladder
  double baseline_s = NAN;  // times: last of the baseline, least rate, half the rate back
  double least_s = NAN;
  double back_s = NAN;
  double least_C = NAN;  // temperatures: where the rate is least, and back
  double back_C = NAN;
  double before = NAN;  // rate drawn on to the dip
  double least = NAN;
  double after = NAN;        // highest rate soon after
  double slope_share = NAN;  // by how much of itself the baseline changes over its span
  double rest_share = NAN;   // least rate over highest, beyond the highest
  double excess = NAN;       // K of heating swallowed
  double score = -1.0;       // below zero: no dip
};

/// Straight line of rate against temperature, drawn on.
struct Baseline {
  double rate;
  double error;
  double slope;
};

Baseline draw_on(const Rates& r, std::size_t first, std::size_t last, double to) {
  double n = 0.0, x = 0.0, y = 0.0, most = -HUGE_VAL;
  for (std::size_t k = first; k <= last; ++k) {
    n += 1.0;
    x += r.y[k];
    y += r.rate[k];
    most = std::max(most, r.rate[k]);
  }
  x /= n;
  y /= n;
  double xx = 0.0, xy = 0.0, error = 0.0;
  for (std::size_t k = first; k <= last; ++k) {
    xx += (r.y[k] - x) * (r.y[k] - x);
    xy += (r.y[k] - x) * (r.rate[k] - y);
    error += r.error[k] / n;
  }
  const double slope = xx > 0.0 ? xy / xx : 0.0;
  const double reach = xx > 0.0 ? (to - x) * (to - x) / xx : 0.0;
  // a window is eight places wide: that many share their readings and count as one
  const double shared = static_cast<double>(2 * arrest_fit::places_per_half_width);
  // a rate that rises is not drawn on: what made it rise may end
  return {std::min(y + slope * (to - x), most), error * std::sqrt(shared * (1.0 / n + reach)), slope};
}

bool usable(const Rates& r, std::size_t k) { return k < r.t.size() && std::isfinite(r.rate[k]); }

/// The dip about a least rate.
Dip dip_at(const Rates& r, std::size_t at, double top) {
  Dip d;
  d.half_width = r.half_width;
  d.least_s = r.t[at];
  d.least_C = r.y[at];
  d.least = r.rate[at];
  if (top < d.least_C + rules::least_beyond) return d;

  double swift = 0.0;
  for (std::size_t k = at; k > 0 && usable(r, k - 1) && r.y[k - 1] > d.least_C - rules::baseline_span; --k)
    swift = std::max(swift, r.rate[k - 1]);
  // the window smears the corner over its own half-width
  const double gap = rules::baseline_gap + rules::smear * swift * r.half_width;
  std::size_t last = at;
  while (last > 0 && usable(r, last - 1) && r.y[last] > d.least_C - gap) --last;
  if (r.y[last] > d.least_C - gap) return d;
  std::size_t first = last;
  while (first > 0 && usable(r, first - 1) && r.y[first - 1] > d.least_C - gap - rules::baseline_span) --first;
  if (last < first + arrest_fit::places_per_half_width - 1) return d;
  const Baseline base = draw_on(r, first, last, d.least_C);
  d.baseline_s = r.t[last];
  d.before = base.rate;
  d.slope_share = base.slope * rules::baseline_span / base.rate;
  const double sure = (d.before - d.least) / std::hypot(base.error, r.error[at]);
  if (!(d.before > 0.0) || !(1.0 - d.least / d.before >= rules::least_depth) || !(sure >= rules::significance))
    return d;

  std::size_t most = at;
  double wanted = HUGE_VAL;
  const double end_C = d.least_C + gap + rules::after_span;
  for (std::size_t k = at + 1; usable(r, k) && r.y[k] < end_C; ++k)
    if (r.rate[k] > r.rate[most]) {
      most = k;
      wanted = std::max(base.rate + base.slope * (r.y[k] - d.least_C), rules::least_recovery * base.rate);
    }
  d.after = r.rate[most];
  const bool recovers = d.after - d.least >= rules::significance * r.error[at] &&
                        d.after >= rules::least_recovery * wanted && d.after >= rules::least_rise * d.least;
  if (!recovers) return d;
  double rest = d.after;
  for (std::size_t k = most; usable(r, k) && r.y[k] < r.y[most] + rules::after_span; ++k)
    rest = std::min(rest, r.rate[k]);
  d.rest_share = rest / d.after;

  std::size_t back = at;
  while (r.rate[back] < 0.5 * (d.least + d.after)) ++back;
  std::size_t start = at;
  while (start > last && r.rate[start] < 0.5 * (d.least + d.before)) --start;
  d.back_s = r.t[back];
  d.back_C = r.y[back];
  d.excess = d.before * (d.back_s - r.t[start]) - (d.back_C - r.y[start]);
  if (d.excess < rules::least_excess) return d;
  d.score = std::min(1.0 - d.least / d.before, 1.0) * sure / (sure + rules::clear * rules::significance);
  return d;
}

/// Whether the surroundings and not the steel made the dip. With a furnace trace: it came closer to the work.
/// Without: a dip the surroundings could have made counts as made by them. `tell` receives the differences.
bool surroundings_did(const Dip& d, const Readings& furnace, const arrest_fit::Corner& corner, bool cooling,
                      Arrest* tell) {
  if (d.excess > (cooling ? rules::most_excess_cooling : rules::most_excess)) return true;
  if (furnace.t.size() >= static_cast<std::size_t>(rules::least_samples)) {
    const auto ahead = [&](double t, double work_C) {
      return arrest_fit::place(furnace, t, d.half_width, rules::least_samples).y - work_C;
    };
    const double from = ahead(corner.t, corner.y);
    const double to = ahead(d.least_s, d.least_C);
    if (std::isfinite(from) && std::isfinite(to)) {
      if (tell != nullptr) {
        tell->difference_start_K = from;
        tell->difference_least_K = to;
      }
      // the loss of rate that a smaller difference does not explain
      const bool explained = d.least / d.before > (1.0 - rules::unexplained) * std::min(to / from, 1.0);
      if (to < rules::hold_share * from || explained) return true;
      if (from >= rules::sure_difference) return false;
      // so small a difference may be that of two sensors: only a furnace that runs ahead of the work is proof
      return !(ahead(d.back_s, d.back_C) - from >= rules::run_ahead * d.excess);
    }
  }
  // work that warms while it should cool is recalescence; work that cools while it should heat is no arrest
  if (d.least < -rules::reversed * d.before) return !cooling;
  if (d.slope_share < -rules::steepest_baseline || d.slope_share > rules::rising_baseline) return true;
  const double surplus = d.after / d.before;
  if (surplus > rules::most_surplus) return true;
  const bool rests = d.rest_share > rules::most_rest;
  if (d.slope_share < -rules::steady_baseline) return rests && d.back_C - corner.y > rules::round_hold;
  // on a steady ramp the furnace has run ahead, and the work catches up: faster than before, and slower again
  return surplus < rules::least_surplus || rests;
}

}  // namespace

namespace {

void check(const Logged& trace, Between range) {
  const auto wrong = [](const std::string& what) { throw std::invalid_argument(what); };
  const std::size_t n = trace.times_s.size();
  if (trace.work_C.size() != n)
    wrong("work_C holds " + std::to_string(trace.work_C.size()) + " readings and times_s " + std::to_string(n) +
          "; expected as many");
  if (!trace.furnace_C.empty() && trace.furnace_C.size() != n)
    wrong("furnace_C holds " + std::to_string(trace.furnace_C.size()) + " readings and times_s " + std::to_string(n) +
          "; expected as many, or none");
  for (std::size_t i = 0; i < n; ++i) {
    if (!std::isfinite(trace.times_s[i])) wrong("times_s[" + std::to_string(i) + "] is no number; expected seconds");
    if (i > 0 && !(trace.times_s[i] > trace.times_s[i - 1]))
      wrong("times_s[" + std::to_string(i) + "] = " + std::to_string(trace.times_s[i]) +
            " does not follow the one before it; expected times that increase");
  }
  if (!(range.low_C < range.high_C))
    wrong("between = " + std::to_string(range.low_C) + " to " + std::to_string(range.high_C) +
          "; expected a low end below the high one, degC");
}

Flags flag_of(Finding f) {
  switch (f) {
    case Finding::arrest: return {};
    case Finding::no_arrest:
    case Finding::not_reached: return Flag::no_arrest;
    case Finding::too_fast: return Flag::heated_too_fast;
    case Finding::too_noisy: return Flag::trace_too_noisy;
    case Finding::controller_hold: return Flag::controller_hold;
  }
  return {};
}

/// Readings while the trace first passes the range: how many, and over how many kelvin.
struct Passage {
  double readings = 0.0;
  double span_K = 0.0;
  double largest_step_K = 0.0;
};

Passage passage(const Readings& work, double low, double high) {
  Passage p;
  const double top = std::min(high, *std::max_element(work.y.begin(), work.y.end()));
  std::size_t i = 0;
  while (i < work.y.size() && work.y[i] < low) ++i;
  const std::size_t first = i;
  for (; i < work.y.size() && work.y[i] < top; ++i) p.readings += 1.0;
  if (first == work.y.size()) return p;
  p.span_K = top - std::max(low, work.y[first]);
  for (std::size_t k = std::max<std::size_t>(first, 1); k < std::min(i + 1, work.y.size()); ++k)
    p.largest_step_K = std::max(p.largest_step_K, work.y[k] - work.y[k - 1]);
  return p;
}

/// Why a trace shows nothing.
Finding why_nothing(const Readings& work, double low, double high) {
  const Passage p = passage(work, low, high);
  if (!(p.span_K > rules::least_beyond)) return Finding::not_reached;
  const double mean_step = p.span_K / std::max(p.readings, 1.0);
  const double blur = rules::significance * work.noise * std::sqrt(12.0 * mean_step / rules::usual_excess);
  if (blur > rules::least_depth * rules::usual_excess) return Finding::too_noisy;
  // one long gap hides an arrest as well as few readings do
  const double step = std::max(mean_step, 0.5 * p.largest_step_K);
  return step * rules::least_samples > rules::usual_excess ? Finding::too_fast : Finding::no_arrest;
}

/// Dips of one step of the ladder while the trace first passes the range.
void look(const Rates& r, double back_K, double low, double high, std::vector<Dip>& found) {
  double top = -HUGE_VAL;
  for (std::size_t k = 0; k < r.t.size(); ++k)
    if (usable(r, k)) top = std::max(top, r.y[k]);
  double reached = -HUGE_VAL;
  for (std::size_t k = 1; k + 1 < r.t.size(); ++k) {
    if (!usable(r, k)) continue;
    reached = std::max(reached, r.y[k]);
    const bool passing = r.y[k] > reached - back_K;
    const bool least = r.rate[k] <= r.rate[k - 1] && r.rate[k] <= r.rate[k + 1];
    if (!passing || !least || !(r.y[k] > low && r.y[k] < high)) continue;
    const Dip d = dip_at(r, k, top);
    if (d.score >= 0.0) found.push_back(d);
  }
}

bool same(const Dip& a, const Dip& b) { return std::abs(a.least_C - b.least_C) < rules::same_dip; }

/// The best view of each dip, best first: one step of the ladder may be fooled where a better one was not.
std::vector<Dip> each_once(std::vector<Dip> found) {
  std::sort(found.begin(), found.end(), [](const Dip& a, const Dip& b) { return a.score > b.score; });
  std::vector<Dip> once;
  for (const Dip& d : found)
    if (std::none_of(once.begin(), once.end(), [&](const Dip& better) { return same(better, d); })) once.push_back(d);
  return once;
}

/// Other dips about this one, nearly as deep: a furnace that swings.
bool swings(const std::vector<Dip>& dips, const Dip& best) {
  return std::any_of(dips.begin(), dips.end(), [&](const Dip& d) {
    return !same(d, best) && std::abs(d.least_C - best.least_C) < rules::rival_span &&
           d.score >= rules::rival_share * best.score;
  });
}

arrest_fit::Corner corner_of(const Readings& work, const Dip& d) {
  // no more of the baseline than the corner needs, because it bends; the window has smeared the rest
  const double start_C = d.least_C - rules::corner_span;
  std::size_t from =
      static_cast<std::size_t>(std::lower_bound(work.t.begin(), work.t.end(), d.baseline_s) - work.t.begin());
  while (from > 0 && work.y[from] > start_C) --from;
  return arrest_fit::corner(work, work.t[from], d.least_s);
}

}  // namespace

Arrest find_arrest(const Logged& trace, Direction direction, Between range) {
  Arrest out;
  out.direction = direction;
  const bool cooling = direction == Direction::cooling;
  const double sign = cooling ? -1.0 : 1.0;
  if (std::isnan(range.low_C)) range.low_C = cooling ? rules::search_low_cooling : rules::search_low;
  if (std::isnan(range.high_C)) range.high_C = rules::search_high;
  check(trace, range);
  const Readings work = arrest_fit::readable(trace.times_s, trace.work_C, sign);
  if (static_cast<double>(work.t.size()) < 2.0 * rules::least_samples)
    throw std::invalid_argument("work_C holds " + std::to_string(work.t.size()) +
                                " readings that can be used; expected a dozen at least");
  const Readings furnace =
      trace.furnace_C.empty() ? Readings{} : arrest_fit::readable(trace.times_s, trace.furnace_C, sign);
  out.noise_K = work.noise;
  out.spacing_s = work.spacing;
  const double low = std::min(sign * range.low_C, sign * range.high_C);
  const double high = std::max(sign * range.low_C, sign * range.high_C);

  // how far behind its own record the trace may be: noise, and on cooling what recalescence brings back
  const double back_K = 2.0 * work.noise + (cooling ? rules::rebound : rules::rebound_heating);
  std::vector<Dip> found;
  const double longest = (work.t.back() - work.t.front()) / rules::ladder_end;
  double half = 0.5 * rules::least_samples * work.spacing;
  while (half < longest) {
    look(arrest_fit::rates(work, half, rules::least_samples), back_K, low, high, found);
    half *= rules::ladder_step;
  }
  const std::vector<Dip> dips = each_once(std::move(found));
  if (dips.empty()) {
    out.finding = why_nothing(work, low, high);
    out.flags |= flag_of(out.finding);
    return out;
  }
  Dip d = dips.front();
  arrest_fit::Corner corner = corner_of(work, d);
  out.finding = Finding::controller_hold;
  for (const Dip& next : dips) {
    const arrest_fit::Corner meets = corner_of(work, next);
    if (!std::isfinite(meets.y) || surroundings_did(next, furnace, meets, cooling, nullptr)) continue;
    if (furnace.t.empty() && swings(dips, next)) continue;
    out.finding = Finding::arrest;
    d = next;
    corner = meets;
    break;
  }
  surroundings_did(d, furnace, corner, cooling, &out);
  out.flags |= flag_of(out.finding);
  if (cooling && out.found()) out.flags |= Flag::recalescence;
  Parts parts{};
  parts[static_cast<std::size_t>(Part::temperature)] =
      std::hypot(rules::normal_90 * corner.error, rules::round_share * (d.least_C - corner.y));
  out.start_C = Estimate::banded(sign * corner.y, parts, Unit::celsius, out.flags, Citation::OwnArithmetic);
  out.start_s = corner.t;
  out.plateau_C = sign * d.least_C;
  out.end_C = sign * d.back_C;
  out.duration_s = d.back_s - corner.t;
  out.rate_before_K_s = sign * d.before;
  out.rate_at_K_s = sign * d.least;
  out.rate_after_K_s = sign * d.after;
  out.excess_K = d.excess;
  return out;
}

SensorCheck check_sensor(const Arrest& arrest, const Estimate& ac1) {
  SensorCheck out;
  if (!arrest.found() || arrest.direction == Direction::cooling || !std::isfinite(ac1.value)) {
    out.bias_K = Estimate::missing(Unit::difference_K, arrest.flags | ac1.flags);
    return out;
  }
  const Estimate& seen = arrest.start_C;
  Estimate& bias = out.bias_K;
  bias.unit = Unit::difference_K;
  bias.flags = seen.flags | ac1.flags;
  bias.sources = ac1.sources;
  bias.sources |= seen.sources;
  bias.parts = ac1.parts;
  double& temperature = bias.parts[static_cast<std::size_t>(Part::temperature)];
  temperature = std::hypot(temperature, seen.half_width());
  // a high Ac1 makes a low bias; the two errors know nothing of one another
  bias.value = seen.value - ac1.value;
  bias.low = bias.value - std::hypot(seen.value - seen.low, ac1.high - ac1.value);
  bias.high = bias.value + std::hypot(seen.high - seen.value, ac1.value - ac1.low);
  out.verdict = bias.low > 0.0    ? SensorVerdict::reads_high
                : bias.high < 0.0 ? SensorVerdict::reads_low
                                  : SensorVerdict::agrees;
  return out;
}

}  // namespace decalesce::heating
