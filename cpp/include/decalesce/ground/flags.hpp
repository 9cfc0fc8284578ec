#pragma once
// What an answer has to say about itself. Each flag has a level and one plain sentence that says what to do.
#include <array>
#include <cstddef>
#include <cstdint>
#include <string_view>

namespace decalesce {

enum class Level : std::uint8_t { note, caution, stop };

inline constexpr std::array<std::string_view, 3> level_names{"note", "caution", "stop"};

enum class Flag : std::uint8_t {
  from_memory,
  range_unpublished,
  derived,
  single_formula,
  filled_from_grade,
  residual_assumed,
  bulk_composition,
  clamped_to_ac1,
  not_applicable,
  carbon_extended,
  section_assumed,
  published_window,
  screen_detail,
  published_value,
  published_temper_range,
  some_retained_austenite,
  band_clipped,
  wide_band,
  wide_spread,
  outside_range,
  outside_table,
  beyond_brinell,
  carbon_not_stated,
  formulas_disagree,
  thick_section,
  soak_too_long,
  retained_austenite,
  differs_from_published,
  barely_tempered,
  embrittlement_range,
  secondary_hardening,
  temper_near_ac1,
  target_above_reach,
  target_below_reach,
  limits_only,
  no_formula_safe,
  input_not_given,
  nan_input,
  impossible_input,
  off_scale,
  ferrite_left,
  no_model,
  range_from_memory,
  size_impossible,
  not_heating,
  not_at_temperature,
  no_arrest,
  heated_too_fast,
  trace_too_noisy,
  controller_hold,
  recalescence,
  not_this_grade,
  reversible_embrittlement,
  middle_stays_soft,
};

inline constexpr std::size_t flag_count = static_cast<std::size_t>(Flag::middle_stays_soft) + 1;

struct FlagText {
  Flag flag;
  std::string_view id;
  Level level;
  std::string_view sentence;
};

inline constexpr std::array<FlagText, flag_count> flag_texts{{
    {Flag::from_memory, "from_memory", Level::note,
     "A formula behind this number was written down from memory; check it against the paper before you rely on the "
     "last 10 K."},
    {Flag::range_unpublished, "range_unpublished", Level::note,
     "The formula's range of validity is not known; compare it with another formula."},
    {Flag::derived, "derived", Level::note,
     "This number comes from a fit made here on open data, not from a published table."},
    {Flag::single_formula, "single_formula", Level::note,
     "Only one line of formulas covers this steel; nothing checks it."},
    {Flag::filled_from_grade, "filled_from_grade", Level::note,
     "Some elements were taken from the grade's mid-range; a certificate would narrow the band."},
    {Flag::residual_assumed, "residual_assumed", Level::note,
     "Elements that were not stated would move this answer at their usual residual amounts; the band is widened. Ask "
     "for a full analysis."},
    {Flag::bulk_composition, "bulk_composition", Level::note,
     "Computed as if all carbon and alloy were in solution; with carbide left the martensite start lies higher."},
    {Flag::clamped_to_ac1, "clamped_to_ac1", Level::note,
     "The formula fell below Ac1 and was raised to it; the steel is close to eutectoid."},
    {Flag::not_applicable, "not_applicable", Level::note,
     "This temperature does not exist for this steel: Ac3 belongs to hypoeutectoid steel, Acm to hypereutectoid."},
    {Flag::carbon_extended, "carbon_extended", Level::note,
     "The formulas were printed for less carbon; they have no carbon term and A1 no longer moves with it, so they are "
     "read on."},
    {Flag::section_assumed, "section_assumed", Level::note,
     "No size was stated, so thin stock was assumed; measure the bar and ask again."},
    {Flag::published_window, "published_window", Level::note,
     "The austenitizing range is the grade's published one, not computed from this heat."},
    {Flag::screen_detail, "screen_detail", Level::note,
     "From closed forms and stored tables, not from a computed history; treat it as a first setting and test a "
     "coupon."},
    {Flag::published_value, "published_value", Level::note,
     "The grade's published figure, not computed from this heat; read the hardness of a test piece."},
    {Flag::published_temper_range, "published_temper_range", Level::note,
     "No model and no table answers: this is read from the grade's published temper range. Start there and measure "
     "before the next temper."},
    {Flag::some_retained_austenite, "some_retained_austenite", Level::note,
     "Some austenite is retained: hardness may not fall evenly, so measure after each temper; a cold treatment gains "
     "little."},
    {Flag::band_clipped, "band_clipped", Level::note,
     "The band is cut where the data, the hardness peak or the published temper range ends; stay inside it and "
     "measure."},
    {Flag::wide_band, "wide_band", Level::caution,
     "The band is wide; measure what the plan says would narrow it most before heat-treating a batch."},
    {Flag::wide_spread, "wide_spread", Level::caution,
     "The published formulas disagree for this steel; trust the band, not the middle, and test a coupon."},
    {Flag::outside_range, "outside_range", Level::caution,
     "The composition lies outside the range the formula was made for; treat the number as a guess and test a coupon."},
    {Flag::outside_table, "outside_table", Level::caution,
     "The question lies outside the published table; the nearest edge was used. Stay inside the table if you can."},
    {Flag::beyond_brinell, "beyond_brinell", Level::caution,
     "A Brinell test is not made on steel this hard; use Vickers or Rockwell C."},
    {Flag::carbon_not_stated, "carbon_not_stated", Level::stop,
     "Carbon is not stated and decides almost everything; get an analysis by combustion or spark before "
     "heat-treating."},
    {Flag::formulas_disagree, "formulas_disagree", Level::note,
     "Two published rules give different answers; both are shown, use the milder one first."},
    {Flag::thick_section, "thick_section", Level::caution,
     "The section is thicker than the rule was made for; use a thermocouple in the work."},
    {Flag::soak_too_long, "soak_too_long", Level::caution,
     "The soak is far longer than this steel needs: grain grows and the skin loses carbon. Count the hold from the "
     "moment "
     "the steel is at temperature, in minutes."},
    {Flag::retained_austenite, "retained_austenite", Level::caution,
     "Much austenite is likely to be retained; austenitize cooler or cold-treat, then temper again."},
    {Flag::differs_from_published, "differs_from_published", Level::caution,
     "The computed aim or temper lies outside the grade's published range; use the published range unless your "
     "certificate or the wanted hardness explains the difference."},
    {Flag::barely_tempered, "barely_tempered", Level::caution,
     "Barely tempered and brittle: choose a hardness further below the as-quenched one for anything that takes a "
     "shock."},
    {Flag::embrittlement_range, "embrittlement_range", Level::caution,
     "This temper lies in or reaches into the range that embrittles martensite (about 260 to 370 degC; some pages say "
     "from 200); avoid it for work that takes shocks."},
    {Flag::secondary_hardening, "secondary_hardening", Level::caution,
     "This steel hardens again on tempering; only the grade's own table can be used."},
    {Flag::temper_near_ac1, "temper_near_ac1", Level::stop,
     "The temper is at or above Ac1 and would form austenite again; lower it."},
    {Flag::target_above_reach, "target_above_reach", Level::stop,
     "The wanted hardness is above what this steel reaches; choose a lower hardness or another steel."},
    {Flag::target_below_reach, "target_below_reach", Level::caution,
     "The wanted hardness is below what the model covers; temper hotter in steps and measure."},
    {Flag::limits_only, "limits_only", Level::note,
     "Only the limits of the grade are known, not this heat; the band holds the whole range of the grade."},
    {Flag::no_formula_safe, "no_formula_safe", Level::stop,
     "No published formula is safe for this family of steel; use the grade's published heat treatment."},
    {Flag::input_not_given, "input_not_given", Level::stop,
     "The formula needs more than the composition and it was not given; give it and ask again."},
    {Flag::nan_input, "nan_input", Level::stop, "An amount could not be used; correct the cell or ask the mill."},
    {Flag::impossible_input, "impossible_input", Level::stop,
     "An input is impossible (negative, or above 100 per cent in all); correct it."},
    {Flag::off_scale, "off_scale", Level::stop, "The value lies off this hardness scale; use the other scale."},
    {Flag::ferrite_left, "ferrite_left", Level::stop,
     "At this temperature ferrite is left and the steel will not harden evenly; austenitize hotter."},
    {Flag::no_model, "no_model", Level::stop,
     "Nothing here models this steel or this question yet; use the published table or a test piece."},
    {Flag::range_from_memory, "range_from_memory", Level::note,
     "The formula was seen in print, but its range of validity was written down from memory; compare it with another "
     "formula near the ends of the range."},
    {Flag::size_impossible, "size_impossible", Level::stop,
     "No bar or die block is this thick; check the unit of the size (5 m for 5 mm) and ask again."},
    {Flag::not_heating, "not_heating", Level::caution,
     "The furnace is colder than the work, which cools in it; check the temperatures and their units."},
    {Flag::not_at_temperature, "not_at_temperature", Level::stop,
     "The steel is not at temperature when this history ends: give it more time or power, or load fewer pieces."},
    {Flag::no_arrest, "no_arrest", Level::caution,
     "The trace shows no arrest: heat slowly through Ac1 and 30 K beyond, with the thermocouple touching the steel. "
     "Steel with little carbon shows little."},
    {Flag::heated_too_fast, "heated_too_fast", Level::caution,
     "The work passes Ac1 in too few readings to show an arrest; heat slower, take a thicker piece or log more often."},
    {Flag::trace_too_noisy, "trace_too_noisy", Level::caution,
     "The readings scatter too much to show an arrest; screen and earth the wires, or average before logging."},
    {Flag::controller_hold, "controller_hold", Level::caution,
     "The work slowed down and went on, but the furnace did it or may have done it; log the furnace beside the work, "
     "or "
     "heat in a furnace that stands still well above Ac1."},
    {Flag::recalescence, "recalescence", Level::note,
     "An arrest on cooling is undercooled by an unknown amount; it is no check of Ac1 or of a sensor."},
    {Flag::not_this_grade, "not_this_grade", Level::stop,
     "The analysis is not this grade; ask the mill, and plan from the analysis alone."},
    {Flag::reversible_embrittlement, "reversible_embrittlement", Level::caution,
     "This temper lies in or reaches into the range (about 375 to 575 degC) where Mn, Ni and Cr steel embrittles on "
     "slow cooling: quench in water or oil from the temper, or temper hotter and cool fast through the range."},
    {Flag::middle_stays_soft, "middle_stays_soft", Level::caution,
     "Thick for this steel: the middle will not harden. The hardness holds for the skin and for a thin edge."},
}};

/// A set of flags: a value, cheap to copy and to join.
class Flags {
 public:
  constexpr Flags() = default;
  constexpr Flags(Flag f) : bits_(bit(f)) {}  // implicit on purpose: flags |= Flag::wide_band
  static constexpr Flags from_bits(std::uint64_t bits) {
    Flags f;
    f.bits_ = bits;
    return f;
  }

  constexpr std::uint64_t bits() const { return bits_; }
  constexpr bool has(Flag f) const { return (bits_ & bit(f)) != 0; }
  constexpr bool empty() const { return bits_ == 0; }
  constexpr Flags& operator|=(Flags other) {
    bits_ |= other.bits_;
    return *this;
  }
  friend constexpr Flags operator|(Flags a, Flags b) { return from_bits(a.bits_ | b.bits_); }
  friend constexpr bool operator==(Flags, Flags) = default;

  /// The gravest level in the set; `note` when empty.
  constexpr Level level() const {
    Level worst = Level::note;
    for (const FlagText& t : flag_texts)
      if (has(t.flag) && t.level > worst) worst = t.level;
    return worst;
  }

  static constexpr std::uint64_t bit(Flag f) { return std::uint64_t{1} << static_cast<unsigned>(f); }

 private:
  std::uint64_t bits_ = 0;
};

constexpr const FlagText& text(Flag f) { return flag_texts[static_cast<std::size_t>(f)]; }

namespace flags_detail {
constexpr bool in_order() {
  for (std::size_t k = 0; k < flag_count; ++k)
    if (static_cast<std::size_t>(flag_texts[k].flag) != k) return false;
  return true;
}
static_assert(in_order(), "flag_texts follows the order of Flag");
static_assert(flag_count <= 64, "a set of flags is held in 64 bits");
}  // namespace flags_detail

}  // namespace decalesce
