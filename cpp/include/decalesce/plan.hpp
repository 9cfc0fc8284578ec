#pragma once
// The walk of a bar through the rooms: critical temperatures, window, soak, quench, temper. The only room that includes
// more than one stage and knows the target.
#include <array>
#include <cmath>
#include <string_view>
#include <vector>

#include "austenite.hpp"
#include "heating.hpp"
#include "laws/critical.hpp"
#include "quench.hpp"
#include "tables/plan_rules.hpp"
#include "temper/setting.hpp"

namespace decalesce::plan {

/// How an analysis stands to the limits of the grade it is sold as.
enum class Standing : std::uint8_t { inside, outside, not_this_grade };

/// What is known and wanted. NaN means not known.
struct Question {
  Composition steel;
  Section section{Shape::plate, NAN, 0.0, 0.0, 0.0};
  heating::Furnace furnace = heating::Furnace::still_electric;
  double target_HRC = NAN;
  double temper_time_s = tables::plan::temper_time_s;
  int tempers = 1;
  /// The grade's published hardening range, degC; used where no rule from composition is safe, and where the computed
  /// aim lies far outside it though the analysis is inside the grade.
  double published_coolest_C = NAN;
  double published_hottest_C = NAN;
  /// The grade hardens in air only: where the computed aim lies far outside the published range, that range is used.
  bool air_hardening = false;
  /// Structural or spring steel that embrittles on slow cooling from the temper.
  bool embrittles_back = false;
  /// Of an analysis that is not this grade nothing published for the grade is used.
  Standing standing = Standing::inside;
};

/// One bar's plan, at the depth of the screen.
struct Screen {
  critical::Temperatures critical;
  austenite::Window window;
  austenite::Window computed;  // from the composition, whichever window is used
  bool window_published = false;
  heating::Soak soak;
  Estimate carbon_in_solution;
  AsQuenched quenched;
  temper::Setting temper;
};

/// A computed aim far outside the published range (data/tables/plan_rules.csv) gives way to it; where the analysis lies
/// outside the grade's limits it stays and is flagged `differs_from_published`. An analysis that is not this grade is
/// flagged `not_this_grade`. Plain carbon steel above the section of that table is flagged `middle_stays_soft`.
/// Families without safe formulas have no as-quenched hardness here unless their retained austenite has a law: NaN with
/// `no_model`, and the grade's published figure counts.
Screen screen(const Question& question);

/// How much of a result's band one amount is to blame for.
struct Blame {
  Element element;
  double half_width_wt;  // how far the amount may be off, wt %
  double ac1_K;          // half-widths it causes
  double aim_K;
  double hardness_HRC;
  double temper_K;
};

/// The amounts that may be off, the one that moves the plan most first. Ac1 by its slope, the others by asking again
/// with the amount at both ends.
std::vector<Blame> blame(const Question& question);

}  // namespace decalesce::plan
