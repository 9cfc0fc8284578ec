#include "decalesce/heating.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include "decalesce/tables/heat_up.hpp"
#include "decalesce/tables/heat_up_set_point.hpp"
#include "decalesce/tables/hold_families.hpp"
#include "decalesce/tables/soak_model.hpp"
#include "heating/soak_rule.hpp"

namespace decalesce::heating {

namespace {

constexpr double mm = 1e-3;
constexpr double minute_s = 60.0;
namespace model = tables::soak_model;

/// The length that governs heating; the spine of a wedge is the last to be hot.
double governing_mm(const Section& section) {
  return (section.shape == Shape::wedge ? section.thickness / 2.0 : section.volume_to_surface()) / mm;
}

/// Half the distance heat has to cross inside.
double half_thickness(const Section& section) { return section.ruling() / 2.0; }

struct Anchor {
  double volume_to_surface_mm;
  double seconds;
};

/// `sides`: thickness over volume-to-surface, 2 for a plate and 4 for a round.
constexpr Anchor anchor(std::string_view id, double sides) {
  return {rule_of(id).section_min_mm / sides, rule_of(id).low};
}
/// The computed cases of the still furnace; the 50 mm round shares its length with the 25 mm plate and is 2 % slower.
constexpr Anchor anchors[] = {
    {0.0, 0.0},
    anchor("heat_up_computed_3mm_blade", 2.0),
    anchor("heat_up_computed_6mm_blade", 2.0),
    anchor("heat_up_computed_25mm_round", 4.0),
    anchor("heat_up_computed_50mm_round", 4.0),
};
constexpr std::size_t last_anchor = std::size(anchors) - 1;

double still_furnace_s(double length_mm) {
  std::size_t k = 1;
  while (k < last_anchor && length_mm > anchors[k].volume_to_surface_mm) ++k;
  const Anchor& a = anchors[k - 1];
  const Anchor& b = anchors[k];
  return a.seconds + (b.seconds - a.seconds) * (length_mm - a.volume_to_surface_mm) /
                         (b.volume_to_surface_mm - a.volume_to_surface_mm);
}

/// Time at a set point over that of the stored cases; salt and a fluidized bed do not radiate.
double set_point_factor(Furnace furnace, double set_point_C) {
  const auto& table = tables::heat_up_set_point;
  const double T = std::isnan(set_point_C) ? model::reference_C : set_point_C;
  const bool bath = furnace == Furnace::neutral_salt || furnace == Furnace::fluidized_bed;
  const auto read = [bath](std::size_t k) {
    const auto& row = tables::heat_up_set_point[k];
    return bath ? row.bath : row.radiating;
  };
  if (T <= table.front().set_point_C) return read(0);
  for (std::size_t k = 1; k < table.size(); ++k)
    if (T <= table[k].set_point_C)
      return std::lerp(read(k - 1), read(k),
                       (T - table[k - 1].set_point_C) / (table[k].set_point_C - table[k - 1].set_point_C));
  return read(table.size() - 1);
}

Estimate between(double low, double value, double high, Flags flags, const Sources& sources, Part part) {
  Estimate e;
  e.value = value;
  e.low = low;
  e.high = high;
  e.unit = Unit::second;
  e.flags = flags | Flag::screen_detail;
  e.parts[static_cast<std::size_t>(part)] = 0.5 * (high - low);
  e.sources = sources;
  return e;
}

std::size_t rule_number(std::string_view id) {
  for (std::size_t k = 0; k < tables::soak_rules.size(); ++k)
    if (tables::soak_rules[k].id == id) return k;
  return tables::soak_rules.size();
}

const tables::HoldFamily* practice_of(const Composition& steel) {
  const std::string_view family = critical::family_names[static_cast<std::size_t>(critical::family(steel.amount))];
  for (const auto& row : tables::hold_families)
    if (row.family == family && steel.amount.C >= row.carbon_min && steel.amount.Cr >= row.chromium_min) return &row;
  return nullptr;
}

/// How far a section lies from the blades the thin rule speaks of (0) to the bars of the other rule (1).
double share_of_thick(const tables::HoldFamily& practice, double thickness_mm) {
  if (thickness_mm <= practice.thin_up_to_mm) return 0.0;
  if (thickness_mm >= practice.thick_from_mm) return 1.0;
  return (thickness_mm - practice.thin_up_to_mm) / (practice.thick_from_mm - practice.thin_up_to_mm);
}

Flags refusal(const Section& section, const Composition& steel) {
  Flags flags;
  double sum = 0.0;
  for_each_element([&](Element e) { sum += steel.amount[e]; });
  if (std::isnan(sum)) flags |= Flag::nan_input;
  if (steel.stated[index(Element::C)] == Stated::not_stated) flags |= Flag::carbon_not_stated;
  return flags | unusable(section);
}

Estimate equalize(const Section& section) {
  const double half = half_thickness(section);
  const double seconds = half * half / model::austenite_diffusivity;
  return between(model::equalize_low * seconds, seconds, model::equalize_high * seconds, Flag::derived,
                 Citation::EN_1993_1_2, Part::formula);
}

bool is_practice(const tables::SoakRule& rule, const tables::HoldFamily* practice) {
  return practice != nullptr && (rule.id == practice->rule || rule.id == practice->thin_rule);
}

/// Rules of the trade do not speak the names of the families: which tags a family answers to.
bool speaks_of(const tables::SoakRule& rule, critical::Family family, const tables::HoldFamily* practice) {
  if (rule.family == "any") return true;
  if (is_practice(rule, practice)) return true;
  using critical::Family;
  switch (family) {
    case Family::plain_hypo:
    case Family::plain_hyper: return rule.family == "plain_carbon";
    case Family::low_alloy:
    case Family::silicon_spring:
    case Family::hyper_low_alloy: return rule.family == "low_alloy";
    case Family::martensitic_stainless:
    case Family::tool_3_5_cr:
    case Family::tool_11_13_cr:
    case Family::high_speed: return rule.family == "high_alloy";
    case Family::austenitic_other: return false;
  }
  return false;
}

bool made_in(const tables::SoakRule& rule, Furnace furnace) {
  if (rule.medium == "any") return true;
  if (furnace == Furnace::neutral_salt) return rule.medium == "salt";
  if (furnace == Furnace::fluidized_bed) return rule.medium == "fluidized bed";
  return rule.medium == "furnace";
}

/// Rules made for one section hold for it and a little around.
bool made_for(const tables::SoakRule& rule, double thickness_mm) {
  return !(thickness_mm * model::near_section < rule.section_min_mm) &&
         !(thickness_mm > rule.section_max_mm * model::near_section);
}

}  // namespace

Flags unusable(const Section& section) {
  if (!section.valid()) return std::isnan(section.thickness) ? Flag::nan_input : Flag::impossible_input;
  return section.ruling() > model::largest_section_mm * mm ? Flags(Flag::size_impossible) : Flags();
}

Estimate heat_through(const Section& section, Furnace furnace, double set_point_C) {
  if (const Flags refused = unusable(section); !refused.empty()) return Estimate::missing(Unit::second, refused);
  const double length = governing_mm(section);
  const auto& row = tables::heat_up[static_cast<std::size_t>(furnace)];
  const double still = still_furnace_s(length) * set_point_factor(furnace, set_point_C);
  Flags flags = Flag::derived;
  if (length > anchors[last_anchor].volume_to_surface_mm) flags |= Flag::thick_section;
  Sources sources(Citation::EN_1993_1_2);
  sources.add(row.source);
  return between(still * row.low_factor, still * row.factor, still * row.high_factor, flags, sources, Part::formula);
}

Soak soak(const Section& section, const Composition& steel, Furnace furnace, double set_point_C) {
  Soak s;
  s.heat_up_s = heat_through(section, furnace, set_point_C);
  const Flags of_section = unusable(section);
  s.equalize_s = of_section.empty() ? equalize(section) : Estimate::missing(Unit::second, of_section);
  s.hold_rule = tables::soak_rules.size();
  const Flags refused = refusal(section, steel);
  const tables::HoldFamily* practice = refused.empty() ? practice_of(steel) : nullptr;
  if (practice == nullptr) {
    s.hold_s = Estimate::missing(Unit::second, refused.empty() ? Flags(Flag::no_model) : refused);
    return s;
  }
  const double thickness_mm = section.ruling() / mm;
  const double share = share_of_thick(*practice, thickness_mm);
  const tables::SoakRule& thin = rule_of(practice->thin_rule);
  const tables::SoakRule& thick = rule_of(practice->rule);
  s.hold_rule = rule_number(share < 0.5 ? practice->thin_rule : practice->rule);
  const double low_min = std::lerp(thin.low, thick.low, share);
  const double high_min = std::lerp(thin.high, thick.high, share);
  Flags flags;
  Sources sources;
  for (const auto& [rule, weight] : {std::pair(&thin, 1.0 - share), std::pair(&thick, share)}) {
    if (weight == 0.0) continue;
    if (rule->status == "memory") flags |= Flag::from_memory;
    sources.add(rule->source);
  }
  if (thickness_mm > thick.section_max_mm) flags |= Flag::thick_section;
  // Rules in minutes per mm are floors, not holds.
  for (const RuleBeside& other : rules_beside(section, steel, furnace)) {
    const tables::SoakRule& r = tables::soak_rules[other.row];
    if (r.phase == "hold" && r.unit == "minute" &&
        (other.low_s > model::disagree_factor * high_min * minute_s ||
         model::disagree_factor * other.high_s < low_min * minute_s))
      flags |= Flag::formulas_disagree;
  }
  s.hold_s = between(low_min * minute_s, 0.5 * (low_min + high_min) * minute_s, high_min * minute_s, flags, sources,
                     Part::table);
  const std::size_t preheat = rule_number(practice->preheat_rule);
  if (preheat < tables::soak_rules.size()) {
    s.preheat_low_C = tables::soak_rules[preheat].low;
    s.preheat_high_C = tables::soak_rules[preheat].high;
  }
  return s;
}

std::vector<RuleBeside> rules_beside(const Section& section, const Composition& steel, Furnace furnace) {
  std::vector<RuleBeside> found;
  if (!refusal(section, steel).empty()) return found;
  const critical::Family family = critical::family(steel.amount);
  const tables::HoldFamily* practice = practice_of(steel);
  const double thickness_mm = section.ruling() / mm;
  const double share = practice == nullptr ? 0.0 : share_of_thick(*practice, thickness_mm);
  const bool between_rules = share > 0.0 && share < 1.0;
  for (std::size_t k = 0; k < tables::soak_rules.size(); ++k) {
    const tables::SoakRule& rule = tables::soak_rules[k];
    const bool of_the_soak = rule.phase == "heat_up" || rule.phase == "hold" || rule.phase == "soak";
    const bool wanted = rule.family == "forging" || speaks_of(rule, family, practice);
    if (!of_the_soak || !wanted || !made_in(rule, furnace)) continue;
    if (!made_for(rule, thickness_mm) && !(between_rules && is_practice(rule, practice))) continue;
    double seconds = NAN;
    if (rule.unit == "minute") seconds = minute_s;
    if (rule.unit == "minute_per_mm") seconds = minute_s * thickness_mm;
    if (rule.unit == "second") seconds = 1.0;
    if (!std::isnan(seconds)) found.push_back({k, rule.low * seconds, rule.high * seconds, rule.phase == "soak"});
  }
  return found;
}

SoakCheck check_soak(double time_s, const Soak& due) {
  const double least = due.heat_up_s.low + due.hold_s.low;
  const double most = due.heat_up_s.high + due.equalize_s.high + due.hold_s.high;
  if (std::isnan(time_s + least + most)) return SoakCheck::not_known;
  if (time_s < least) return SoakCheck::too_short;
  if (time_s <= most) return SoakCheck::fits;
  return time_s <= model::far_too_long * most ? SoakCheck::long_soak : SoakCheck::far_too_long;
}

}  // namespace decalesce::heating
