#include <algorithm>
#include <map>
#include <tuple>

#include "problem.hpp"

namespace decalesce::conduction {

namespace {

/// Bins of a material of constant properties: one, and the straight ones at the ends.
constexpr std::size_t straight_bins = 3;

/// Watches the lanes of one packet.
struct Watch {
  const Body* bodies;  // by lane
  Summary* answers;
  const std::size_t* rows;
  std::size_t used;  // lanes that are not repeats
  double within_K;
  bool stop_within;

  static double at(const double* y0, const double* y1, const double* c2, const double* c3, double s) {
    return (1.0 - s) * *y0 + s * (*y1 + (1.0 - s) * (*c2 + s * *c3));
  }

  static bool accepted(void* observer, const Step& step) {
    const Watch& w = *static_cast<const Watch*>(observer);
    const auto lane = static_cast<std::size_t>(step.lane);
    if (lane >= w.used) return w.stop_within && !std::isnan(w.answers[w.rows[w.used - 1]].time_within_s);
    const Body& body = w.bodies[lane];
    Summary& answer = w.answers[w.rows[lane]];
    const Material& material = *body.material;
    const double target = body.surroundings->temperature.temperatures_C().back();
    const auto temperature = [&](int point, double s) {
      const std::ptrdiff_t k = static_cast<std::ptrdiff_t>(point) * step.stride;
      return material.temperature_C(at(step.y0 + k, step.y1 + k, step.c2 + k, step.c3 + k, s));
    };
    const auto off = [&](double s) {
      return std::max(std::abs(temperature(body.mesh->centre, s) - target),
                      std::abs(temperature(body.mesh->surface, s) - target));
    };
    answer.surface_C = temperature(body.mesh->surface, 1.0);
    answer.centre_C = temperature(body.mesh->centre, 1.0);
    answer.heat_in_J = step.heat1;
    const double middle = temperature(body.mesh->surface, 0.5) - temperature(body.mesh->centre, 0.5);
    const double last = answer.surface_C - answer.centre_C;
    if (std::abs(middle) > std::abs(answer.largest_difference_K)) {
      answer.largest_difference_K = middle;
      answer.difference_time_s = 0.5 * (step.from + step.to);
    }
    if (std::abs(last) > std::abs(answer.largest_difference_K)) {
      answer.largest_difference_K = last;
      answer.difference_time_s = step.to;
    }
    if (!std::isnan(answer.time_within_s)) return w.stop_within;
    if (off(1.0) > w.within_K) return false;
    double low = 0.0;
    double high = 1.0;
    constexpr int halvings = 40;
    for (int turn = 0; turn < halvings; ++turn) {
      const double half = 0.5 * (low + high);
      (off(half) > w.within_K ? low : high) = half;
    }
    answer.time_within_s = step.from + high * (step.to - step.from);
    return w.stop_within;
  }
};

/// Why a body cannot be solved; empty when it can.
Flags refusal(const Body& body, double tolerance_K) {
  if (body.material == nullptr || body.mesh == nullptr || body.surroundings == nullptr) return Flag::impossible_input;
  const Surroundings& around = *body.surroundings;
  if (std::isnan(body.start_C + around.film_W_m2K + around.emissivity)) return Flag::nan_input;
  if (!std::isfinite(body.start_C) || body.start_C <= -zero_celsius_K ||
      !trouble(*body.mesh, around, tolerance_K).empty())
    return Flag::impossible_input;
  return {};
}

Flags doubts(const Body& body) {
  Flags flags;
  const double hottest = body.surroundings->temperature.peak_C();
  if (hottest < body.start_C) flags |= Flag::not_heating;
  // constant properties hold anywhere, a table only between its ends
  if (body.material->bins().size() > straight_bins &&
      (hottest > body.material->hottest_C() || body.start_C < body.material->coolest_C()))
    flags |= Flag::outside_range;
  return flags;
}

}  // namespace

std::vector<Summary> heat_batch(std::span<const Body> bodies, double within_K, double tolerance_K, bool stop_within) {
  std::vector<Summary> answers(bodies.size());
  const Kernel& kernel = fastest_kernel();
  // meshes of the same make have the same links; side by side go bodies that take about as many steps
  std::map<std::tuple<std::size_t, std::size_t, std::size_t, int>, std::vector<std::size_t>> groups;
  for (std::size_t row = 0; row < bodies.size(); ++row) {
    answers[row].flags = refusal(bodies[row], tolerance_K);
    if (!answers[row].flags.empty()) {
      answers[row].largest_difference_K = answers[row].difference_time_s = NAN;
      continue;
    }
    answers[row].flags = doubts(bodies[row]);
    const Mesh& m = *bodies[row].mesh;
    groups[{m.volume.size(), m.links.size(), m.faces.size(), m.band}].push_back(row);
  }
  for (auto& [make, rows] : groups) {
    std::stable_sort(rows.begin(), rows.end(), [&](std::size_t a, std::size_t b) {
      return bodies[a].mesh->half_thickness < bodies[b].mesh->half_thickness;
    });
    const auto lanes = static_cast<std::size_t>(kernel.lanes);
    for (std::size_t first = 0; first < rows.size(); first += lanes) {
      const std::size_t used = std::min(lanes, rows.size() - first);
      std::vector<Body> packet;
      for (std::size_t l = 0; l < used; ++l) packet.push_back(bodies[rows[first + l]]);
      Packed packed(packet, kernel.lanes, tolerance_K);
      Watch watch{packet.data(), answers.data(), rows.data() + first, used, within_K, stop_within};
      packed.problem().observer = &watch;
      packed.problem().accepted = &Watch::accepted;
      kernel.together(packed.problem());
      for (std::size_t l = 0; l < used; ++l) {
        if (!std::isnan(packed.heat(static_cast<int>(l)))) continue;
        Summary& failed = answers[rows[first + l]];  // no step was short enough
        failed = Summary{};
        failed.largest_difference_K = failed.difference_time_s = NAN;
        failed.flags = Flag::impossible_input;
      }
    }
  }
  return answers;
}

}  // namespace decalesce::conduction
