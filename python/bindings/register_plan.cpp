#include <pybind11/stl.h>

#include "composition_type.hpp"
#include "decalesce/plan.hpp"
#include "decalesce/tables/soak_rules.hpp"
#include "estimate_type.hpp"
#include "register.hpp"
#include "steel_state_types.hpp"

namespace bindings {

using namespace decalesce;

namespace {

using Numbers = py::array_t<double, py::array::c_style | py::array::forcecast>;
using Codes = py::array_t<std::uint8_t, py::array::c_style | py::array::forcecast>;

constexpr double mm = 1e-3;

heating::Furnace furnace_named(const std::string& name) {
  for (std::size_t k = 0; k < heating::furnace_names.size(); ++k)
    if (heating::furnace_names[k] == name) return static_cast<heating::Furnace>(k);
  throw py::value_error("furnace = '" + name +
                        "'; expected still_electric, forced_air, gas_fired, neutral_salt or fluidized_bed");
}

/// The columns of a rack beside its compositions.
struct Rack {
  Codes shape;
  Numbers thickness_mm;
  Numbers width_mm;
  Numbers length_mm;
  Numbers target_HRC;
  Numbers tempers;
  Numbers published_coolest_C;
  Numbers published_hottest_C;
  Codes air_hardening;
  Codes embrittles_back;
  Codes standing;

  void check(std::size_t rows) const {
    const std::pair<const char*, py::ssize_t> sizes[] = {{"shape", shape.size()},
                                                         {"thickness_mm", thickness_mm.size()},
                                                         {"width_mm", width_mm.size()},
                                                         {"length_mm", length_mm.size()},
                                                         {"target_HRC", target_HRC.size()},
                                                         {"tempers", tempers.size()},
                                                         {"published_coolest_C", published_coolest_C.size()},
                                                         {"published_hottest_C", published_hottest_C.size()},
                                                         {"air_hardening", air_hardening.size()},
                                                         {"embrittles_back", embrittles_back.size()},
                                                         {"standing", standing.size()}};
    for (const auto& [name, size] : sizes)
      if (static_cast<std::size_t>(size) != rows)
        throw py::value_error(std::string("plan: ") + name + " has " + std::to_string(size) + " values for " +
                              std::to_string(rows) + " steels; expected as many");
  }
};

/// Sides the shape does not need are dropped; a shape that lacks one it needs is taken as a plate of its thickness.
Section section_of(std::uint8_t shape, double thickness_mm, double width_mm, double length_mm) {
  const auto or_zero = [](double x) { return std::isnan(x) ? 0.0 : x * mm; };
  Section s{static_cast<decalesce::Shape>(shape), thickness_mm * mm, or_zero(width_mm), or_zero(length_mm), 0.0};
  if (!s.valid()) s.shape = decalesce::Shape::plate;
  return s;
}

plan::Question question_of(const Composition& steel, const Rack& rack, std::size_t i, heating::Furnace furnace,
                           double temper_time_s) {
  plan::Question q;
  q.steel = steel;
  q.section =
      section_of(rack.shape.data()[i], rack.thickness_mm.data()[i], rack.width_mm.data()[i], rack.length_mm.data()[i]);
  q.furnace = furnace;
  q.target_HRC = rack.target_HRC.data()[i];
  q.temper_time_s = temper_time_s;
  q.tempers = static_cast<int>(rack.tempers.data()[i]);
  q.published_coolest_C = rack.published_coolest_C.data()[i];
  q.published_hottest_C = rack.published_hottest_C.data()[i];
  q.air_hardening = rack.air_hardening.data()[i] != 0;
  q.embrittles_back = rack.embrittles_back.data()[i] != 0;
  q.standing = static_cast<plan::Standing>(rack.standing.data()[i]);
  return q;
}

/// Columns of estimates that are filled row by row.
class Column {
 public:
  Column(const char* name, Unit unit, const Shape& shape)
      : name_(name), all_(batch_of_estimates(shape, unit, {}, false)) {}
  void put(std::size_t i, const Estimate& e) {
    EstimateColumns& c = *all_.columns;
    c.value.mutable_data()[i] = e.value;
    c.low.mutable_data()[i] = e.low;
    c.high.mutable_data()[i] = e.high;
    c.flags.mutable_data()[i] = e.flags.bits();
    all_.one.sources |= e.sources;
  }
  const char* name() const { return name_; }
  const PyEstimate& estimates() const { return all_; }

 private:
  const char* name_;
  PyEstimate all_;
};

py::dict rows_of(const PyComposition& w, const Rack& rack, const std::string& furnace, double temper_time_s) {
  const std::size_t rows = w.rows();
  rack.check(rows);
  const heating::Furnace kind = furnace_named(furnace);
  const Shape shape{static_cast<py::ssize_t>(rows)};
  Column columns[] = {{"ac1", Unit::celsius, shape},
                      {"ac3", Unit::celsius, shape},
                      {"acm", Unit::celsius, shape},
                      {"ms", Unit::celsius, shape},
                      {"coolest", Unit::celsius, shape},
                      {"aim", Unit::celsius, shape},
                      {"hottest", Unit::celsius, shape},
                      {"heat_up_s", Unit::second, shape},
                      {"equalize_s", Unit::second, shape},
                      {"hold_s", Unit::second, shape},
                      {"carbon", Unit::wt_percent, shape},
                      {"as_quenched_HRC", Unit::hrc, shape},
                      {"retained_austenite", Unit::fraction, shape},
                      {"temper_C", Unit::celsius, shape}};
  Bytes family(shape);
  py::array_t<std::uint32_t> reasons(shape);
  py::array_t<bool> published(shape);
  const char* names[] = {"temper_hardness_HRC", "stays_from_C", "stays_to_C", "hardest_HRC", "softest_HRC"};
  Doubles numbers[] = {Doubles(shape), Doubles(shape), Doubles(shape), Doubles(shape), Doubles(shape)};
  std::uint8_t* to_family = family.mutable_data();
  std::uint32_t* to_reasons = reasons.mutable_data();
  bool* to_published = published.mutable_data();
  {
    const py::gil_scoped_release free;
    for (std::size_t i = 0; i < rows; ++i) {
      const plan::Screen s = plan::screen(question_of(w.row(i), rack, i, kind, temper_time_s));
      const Estimate* answers[] = {&s.critical.ac1,
                                   &s.critical.ac3,
                                   &s.critical.acm,
                                   &s.critical.ms,
                                   &s.window.coolest,
                                   &s.window.aim,
                                   &s.window.hottest,
                                   &s.soak.heat_up_s,
                                   &s.soak.equalize_s,
                                   &s.soak.hold_s,
                                   &s.carbon_in_solution,
                                   &s.quenched.hardness_HRC,
                                   &s.quenched.retained_austenite,
                                   &s.temper.temperature_C};
      for (std::size_t k = 0; k < std::size(columns); ++k) columns[k].put(i, *answers[k]);
      to_family[i] = static_cast<std::uint8_t>(s.critical.family);
      to_reasons[i] = s.window.reasons;
      to_published[i] = s.window_published;
      const double values[] = {s.temper.hardness_HRC, s.temper.stays_from_C, s.temper.stays_to_C, s.temper.hardest_HRC,
                               s.temper.softest_HRC};
      for (std::size_t k = 0; k < std::size(numbers); ++k) numbers[k].mutable_data()[i] = values[k];
    }
  }
  py::dict result;
  for (const Column& c : columns) result[c.name()] = c.estimates();
  for (std::size_t k = 0; k < std::size(numbers); ++k) result[names[k]] = numbers[k];
  result["family"] = family;
  result["reasons"] = reasons;
  result["window_published"] = published;
  return result;
}

py::dict one_of(const PyComposition& w, const py::object& section, const std::string& furnace, double target_HRC,
                double temper_time_s, int tempers, double published_coolest_C, double published_hottest_C,
                bool air_hardening, bool embrittles_back, std::uint8_t standing) {
  plan::Question q;
  q.steel = w.one;
  if (!section.is_none()) q.section = py::cast<const Section&>(section);
  q.furnace = furnace_named(furnace);
  q.target_HRC = target_HRC;
  q.temper_time_s = temper_time_s;
  q.tempers = tempers;
  q.published_coolest_C = published_coolest_C;
  q.published_hottest_C = published_hottest_C;
  q.air_hardening = air_hardening;
  q.embrittles_back = embrittles_back;
  q.standing = static_cast<plan::Standing>(standing);
  const plan::Screen s = plan::screen(q);
  py::dict r;
  r["ac1"] = PyEstimate(s.critical.ac1);
  r["ac3"] = PyEstimate(s.critical.ac3);
  r["acm"] = PyEstimate(s.critical.acm);
  r["ms"] = PyEstimate(s.critical.ms);
  r["mf"] = PyEstimate(s.critical.mf);
  r["bs"] = PyEstimate(s.critical.bs);
  r["family"] = std::string(critical::family_names[static_cast<std::size_t>(s.critical.family)]);
  r["coolest"] = PyEstimate(s.window.coolest);
  r["aim"] = PyEstimate(s.window.aim);
  r["hottest"] = PyEstimate(s.window.hottest);
  py::list reasons;
  for (std::size_t k = 0; k < austenite::reason_texts.size(); ++k)
    if (s.window.has(static_cast<austenite::Reason>(k)))
      reasons.append(std::string(austenite::reason_texts[k].sentence));
  r["reasons"] = reasons;
  r["window_published"] = s.window_published;
  r["computed_window_C"] = py::make_tuple(s.computed.coolest.value, s.computed.aim.value, s.computed.hottest.value);
  r["heat_up_s"] = PyEstimate(s.soak.heat_up_s);
  r["equalize_s"] = PyEstimate(s.soak.equalize_s);
  r["hold_s"] = PyEstimate(s.soak.hold_s);
  r["hold_rule"] = s.soak.hold_rule < tables::soak_rules.size() ? std::string(tables::soak_rules[s.soak.hold_rule].id)
                                                                : std::string();
  r["preheat_C"] = py::make_tuple(s.soak.preheat_low_C, s.soak.preheat_high_C);
  r["carbon"] = PyEstimate(s.carbon_in_solution);
  r["quenched"] = PyAsQuenched(s.quenched);
  r["as_quenched_HRC"] = PyEstimate(s.quenched.hardness_HRC);
  r["retained_austenite"] = PyEstimate(s.quenched.retained_austenite);
  r["temper_C"] = PyEstimate(s.temper.temperature_C);
  r["stays_from_C"] = s.temper.stays_from_C;
  r["stays_to_C"] = s.temper.stays_to_C;
  r["hardest_HRC"] = s.temper.hardest_HRC;
  r["softest_HRC"] = s.temper.softest_HRC;
  py::list blame;
  for (const plan::Blame& b : plan::blame(q))
    blame.append(
        py::make_tuple(std::string(symbol(b.element)), b.half_width_wt, b.ac1_K, b.aim_K, b.hardness_HRC, b.temper_K));
  r["blame"] = blame;
  return r;
}

}  // namespace

void register_plan(py::module_& module) {
  module.def("plan_one", &one_of, py::arg("w"), py::arg("section"), py::arg("furnace"), py::arg("target_HRC"),
             py::arg("temper_time_s"), py::arg("tempers"), py::arg("published_coolest_C"),
             py::arg("published_hottest_C"), py::arg("air_hardening"), py::arg("embrittles_back"), py::arg("standing"),
             "The plan of one bar, by name.");
  module.def(
      "plan_rows",
      [](const PyComposition& w, const Codes& shape, const Numbers& thickness_mm, const Numbers& width_mm,
         const Numbers& length_mm, const Numbers& target_HRC, const Numbers& tempers,
         const Numbers& published_coolest_C, const Numbers& published_hottest_C, const Codes& air_hardening,
         const Codes& embrittles_back, const Codes& standing, const std::string& furnace, double temper_time_s) {
        return rows_of(w,
                       {shape, thickness_mm, width_mm, length_mm, target_HRC, tempers, published_coolest_C,
                        published_hottest_C, air_hardening, embrittles_back, standing},
                       furnace, temper_time_s);
      },
      py::arg("w"), py::arg("shape"), py::arg("thickness_mm"), py::arg("width_mm"), py::arg("length_mm"),
      py::arg("target_HRC"), py::arg("tempers"), py::arg("published_coolest_C"), py::arg("published_hottest_C"),
      py::arg("air_hardening"), py::arg("embrittles_back"), py::arg("standing"), py::arg("furnace"),
      py::arg("temper_time_s"), "The plans of a rack, a column each.");
  py::list sentences;
  for (const auto& text : austenite::reason_texts) sentences.append(std::string(text.sentence));
  module.attr("window_reasons") = py::tuple(sentences);
  py::list shapes;
  for (const auto& name : shape_names) shapes.append(std::string(name));
  module.attr("shape_names") = py::tuple(shapes);
}

}  // namespace bindings
