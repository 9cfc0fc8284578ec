#pragma once
// Rates of a logged trace, and where its two branches meet: least squares in windows. Not installed.
#include <cstddef>
#include <span>
#include <vector>

namespace decalesce::heating::arrest_fit {

/// Readings that can be used, in time order; a gap is simply a longer step.
struct Readings {
  std::vector<double> t;
  std::vector<double> y;
  double noise = 0.0;    // standard deviation of one reading, the step of the display included, K
  double step = 0.0;     // of the display, 0 where none shows, K
  double spacing = 0.0;  // middle time from one reading to the next, s
};

/// Leaves out NaN and lone spikes and measures scatter and steps. `sign` is -1 for a cooling trace.
Readings readable(std::span<const double> t, std::span<const double> y, double sign);

/// Temperature and rate along a trace, each from a parabola through the readings within half_width of it. NaN where
/// too few stand on either side.
struct Rates {
  double half_width = 0.0;
  std::vector<double> t;
  std::vector<double> y;
  std::vector<double> rate;
  std::vector<double> error;  // standard deviation of the rate
};
Rates rates(const Readings& of, double half_width, double least_readings);
inline constexpr std::size_t places_per_half_width = 4;

/// The same at one time.
struct Place {
  double y;
  double rate;
  double error;
};
Place place(const Readings& of, double at, double half_width, double least_readings);

/// The point where a parabola turns into a straight line, both through one point: the onset of an arrest.
struct Corner {
  double t;
  double y;
  double error;  // standard deviation of y
};
Corner corner(const Readings& of, double from, double to);

}  // namespace decalesce::heating::arrest_fit
