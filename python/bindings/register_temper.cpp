#include <pybind11/stl.h>

#include <optional>

#include "composition_type.hpp"
#include "decalesce/temper/published_table.hpp"
#include "decalesce/temper/setting.hpp"
#include "estimate_type.hpp"
#include "register.hpp"
#include "steel_state_types.hpp"

namespace bindings {

using namespace decalesce;

namespace {

using Rows = py::array_t<std::int64_t, py::array::c_style>;

/// What the Python face passes: equal-shaped arrays, and for each place which steel stands there.
struct Tempers {
  const Doubles& P18;
  const Doubles& peak_C;
  const Doubles& total_s;

  temper::Hold at(py::ssize_t i) const { return {P18.data()[i], peak_C.data()[i], total_s.data()[i]}; }
};

Shape shape_of(const Doubles& a) { return Shape(a.shape(), a.shape() + a.ndim()); }

Unit unit_of_scale(const std::string& scale) {
  if (scale == "HRC") return Unit::hrc;
  if (scale == "HV") return Unit::hv;
  throw py::value_error("scale = '" + scale + "'; expected 'HRC' or 'HV'");
}

/// Estimates place by place. Neighbours of the same steel share its curve.
template <class Steel>
PyEstimate hardness_of(const Tempers& tempers, const Rows& steel_row, Unit unit, double half_width_K, Steel&& steel) {
  if (tempers.P18.ndim() == 0) return steel(0).after(tempers.at(0), unit, half_width_K);
  const py::ssize_t count = tempers.P18.size();
  PyEstimate out = batch_of_estimates(shape_of(tempers.P18), unit, {}, true);
  std::int64_t made_for = -1;
  std::optional<temper::Temperable> current;
  for (py::ssize_t i = 0; i < count; ++i) {
    const std::int64_t row = steel_row.data()[i];
    if (row != made_for) {
      current.emplace(steel(static_cast<std::size_t>(row)));
      made_for = row;
    }
    const Estimate e = current->after(tempers.at(i), unit, half_width_K);
    out.one.sources |= e.sources;
    set_row(out, static_cast<std::size_t>(i), e);
  }
  return out;
}

PyEstimate hardness(const PyAsQuenched& q, const Rows& steel_row, const Doubles& P18, const Doubles& peak_C,
                    const Doubles& total_s, const std::string& scale, double half_width_K) {
  return hardness_of({P18, peak_C, total_s}, steel_row, unit_of_scale(scale), half_width_K,
                     [&](std::size_t row) { return temper::Temperable(q.row(row)); });
}

PyEstimate hardness_rows(const PyComposition& in_solution, const Doubles& as_quenched_HRC, const Rows& steel_row,
                         const Doubles& temperature_C, const Doubles& time_s, const std::string& scale,
                         double half_width_K) {
  Doubles P18(shape_of(temperature_C));
  for (py::ssize_t i = 0; i < P18.size(); ++i)
    P18.mutable_data()[i] = temper::parameter_P18(temperature_C.data()[i], time_s.data()[i]);
  return hardness_of({P18, temperature_C, time_s}, steel_row, unit_of_scale(scale), half_width_K, [&](std::size_t row) {
    return temper::Temperable(in_solution.row(row), as_quenched_HRC.data()[row]);
  });
}

struct SettingColumn {
  const char* name;
  double temper::Setting::*member;
};
constexpr std::array<SettingColumn, 7> setting_columns{{{"hardness_HRC", &temper::Setting::hardness_HRC},
                                                        {"stays_from_C", &temper::Setting::stays_from_C},
                                                        {"stays_to_C", &temper::Setting::stays_to_C},
                                                        {"coolest_C", &temper::Setting::coolest_C},
                                                        {"hardest_HRC", &temper::Setting::hardest_HRC},
                                                        {"hottest_C", &temper::Setting::hottest_C},
                                                        {"softest_HRC", &temper::Setting::softest_HRC}}};

py::dict temperature_for(const PyAsQuenched& q, const Rows& steel_row, const Doubles& target_HRC,
                         const Doubles& total_s, bool embrittles_back) {
  py::dict out;
  if (target_HRC.ndim() == 0) {
    const temper::Setting s =
        temper::temperature_for(temper::Temperable(q.row(0)), target_HRC.data()[0], total_s.data()[0], embrittles_back);
    out["temperature_C"] = PyEstimate(s.temperature_C);
    for (const SettingColumn& c : setting_columns) out[c.name] = s.*c.member;
    return out;
  }
  PyEstimate temperature = batch_of_estimates(shape_of(target_HRC), Unit::celsius, {}, true);
  std::array<Doubles, setting_columns.size()> columns;
  for (Doubles& c : columns) c = Doubles(shape_of(target_HRC));
  for (py::ssize_t i = 0; i < target_HRC.size(); ++i) {
    const temper::Temperable steel(q.row(static_cast<std::size_t>(steel_row.data()[i])));
    const temper::Setting s = temper::temperature_for(steel, target_HRC.data()[i], total_s.data()[i], embrittles_back);
    temperature.one.sources |= s.temperature_C.sources;
    set_row(temperature, static_cast<std::size_t>(i), s.temperature_C);
    for (std::size_t k = 0; k < columns.size(); ++k) columns[k].mutable_data()[i] = s.*setting_columns[k].member;
  }
  out["temperature_C"] = temperature;
  for (std::size_t k = 0; k < columns.size(); ++k) out[setting_columns[k].name] = columns[k];
  return out;
}

/// Several histories one after the other: parameter, total time, peak, mean.
py::tuple carried(const std::vector<History>& histories, double constant_hours) {
  temper::TemperState state(constant_hours);
  for (const History& h : histories) state.follow(h);
  return py::make_tuple(state.parameter(), state.total_s(), state.peak_C(), state.mean_C());
}

py::dict constant(const std::string& rule, double carbon) {
  for (std::size_t k = 0; k < tables::temper_constants.size(); ++k)
    if (temper::constant_rule_names[k] == rule) {
      const temper::Constant c = temper::published_constant(static_cast<temper::ConstantRule>(k), carbon);
      py::dict out;
      out["hours"] = c.hours;
      out["flags"] = c.flags.bits();
      out["source"] = std::string(tables::citation_key(tables::temper_constants[k].source));
      return out;
    }
  throw py::value_error("constant = '" + rule +
                        "'; expected a number (for hours), 'practice', 'grange_baughman' or 'carbon_dependent'");
}

Citation citation_named(const std::string& key) {
  for (std::size_t k = 0; k < tables::citation_entries.size(); ++k)
    if (tables::citation_entries[k].key == key) return static_cast<Citation>(k);
  throw py::value_error("source '" + key + "' is not in the bibliography");
}

PyEstimate table_hardness(const temper::PublishedTable& table, const Doubles& parameter) {
  if (parameter.ndim() == 0) return table.after(parameter.data()[0]);
  PyEstimate out = batch_of_estimates(shape_of(parameter), Unit::hrc, table.source(), true);
  for (py::ssize_t i = 0; i < parameter.size(); ++i)
    set_row(out, static_cast<std::size_t>(i), table.after(parameter.data()[i]));
  return out;
}

void register_published_table(py::module_& module) {
  using temper::PublishedTable;
  py::class_<PublishedTable>(module, "TemperTable", "A published table of hardness against temper.")
      .def(py::init([](const std::vector<double>& temperatures_C, const std::vector<double>& times_s,
                       const std::vector<double>& hardness_HRC, const std::string& source) {
             if (temperatures_C.size() < 2 || times_s.size() != temperatures_C.size() ||
                 hardness_HRC.size() != temperatures_C.size())
               throw py::value_error("TemperTable: expected two tempers or more, each with a time and a hardness");
             return PublishedTable(temperatures_C, times_s, hardness_HRC, citation_named(source));
           }),
           py::arg("temperatures_C"), py::arg("times_s"), py::arg("hardness_HRC"), py::arg("source"))
      .def("after", &table_hardness, py::arg("parameter"), "Hardness at a temper parameter with constant 20.")
      .def(
          "tempers_for",
          [](const PublishedTable& table, double target_HRC, double total_s, double coolest_C, double hottest_C) {
            const auto name = [](temper::BandEnd end) {
              return std::string(temper::band_end_names[static_cast<std::size_t>(end)]);
            };
            py::list all;
            for (const temper::TableTemper& t : table.tempers_for(target_HRC, total_s, {coolest_C, hottest_C}))
              all.append(py::make_tuple(PyEstimate(t.temperature_C), name(t.cool_end), name(t.hot_end)));
            return all;
          },
          py::arg("target_HRC"), py::arg("total_s"), py::arg("coolest_C"), py::arg("hottest_C"),
          "Tempers that leave the target, coolest first, each with why its band ends where it does.")
      .def_property_readonly("hardest_HRC", &PublishedTable::hardest_HRC, "Hardest printed value.")
      .def_property_readonly("softest_HRC", &PublishedTable::softest_HRC, "Softest printed value.");
}

/// A grade's published figure as an estimate: its band is what the table leaves open.
PyEstimate published_estimate(double value, double low, double high, const std::string& unit, const std::string& flag,
                              const std::string& source) {
  if (unit != "HRC" && unit != "degC") throw py::value_error("unit = '" + unit + "'; expected 'HRC' or 'degC'");
  Estimate e{value, low, high, unit == "HRC" ? Unit::hrc : Unit::celsius, {}, {}, citation_named(source)};
  for (const FlagText& t : flag_texts)
    if (t.id == flag) e.flags |= t.flag;
  e.parts[static_cast<std::size_t>(Part::table)] = e.half_width();
  return e;
}

PyEstimate flagged(const PyEstimate& estimate, const std::string& flag) {
  if (estimate.columns) throw py::value_error("estimate is a batch; expected one answer");
  Estimate e = estimate.one;
  for (const FlagText& t : flag_texts)
    if (t.id == flag) e.flags |= t.flag;
  return e;
}

/// No temper, and why: the flag says it.
PyEstimate no_temper(const std::string& flag) {
  Flags why;
  for (const FlagText& t : flag_texts)
    if (t.id == flag) why |= t.flag;
  return Estimate::missing(Unit::celsius, why);
}

}  // namespace

void register_temper(py::module_& module) {
  register_published_table(module);
  module.def("published_estimate", &published_estimate, py::arg("value"), py::arg("low"), py::arg("high"),
             py::arg("unit"), py::arg("flag"), py::arg("source"), "A published figure with its band and one flag.");
  module.def("no_temper", &no_temper, py::arg("flag"), "A temper that does not exist, with the flag that says why.");
  module.def("temper_parameter", py::vectorize(temper::parameter_kK), py::arg("temperature_C"), py::arg("time_s"),
             py::arg("constant_hours"), "Temper parameter of holds, thousand kelvin.");
  module.def("temper_equivalent_temperature", py::vectorize(temper::equivalent_temperature_C), py::arg("parameter"),
             py::arg("time_s"), py::arg("constant_hours"), "Temperature with this parameter in a time, degC.");
  module.def("temper_equivalent_time", py::vectorize(temper::equivalent_time_s), py::arg("parameter"),
             py::arg("temperature_C"), py::arg("constant_hours"), "Time with this parameter at a temperature, s.");
  module.def("temper_carried", &carried, py::arg("histories"), py::arg("constant_hours"),
             "Parameter, total time (s), peak and mean (degC) of histories one after the other.");
  module.def("temper_constant", &constant, py::arg("rule"), py::arg("carbon"), "A published constant for hours.");
  module.def("temper_hardness", &hardness, py::arg("as_quenched"), py::arg("steel_row"), py::arg("P18"),
             py::arg("peak_C"), py::arg("total_s"), py::arg("scale"), py::arg("temperature_half_width_K"),
             "Hardness after a temper.");
  module.def("temper_hardness_rows", &hardness_rows, py::arg("in_solution"), py::arg("as_quenched_HRC"),
             py::arg("steel_row"), py::arg("temperature_C"), py::arg("time_s"), py::arg("scale"),
             py::arg("temperature_half_width_K"), "Hardness after a temper, from columns.");
  module.def("temper_temperature_for", &temperature_for, py::arg("as_quenched"), py::arg("steel_row"),
             py::arg("target_HRC"), py::arg("total_s"), py::arg("embrittles_back"),
             "The temper for a wanted hardness.");
  module.def("flagged", &flagged, py::arg("estimate"), py::arg("flag"), "The estimate of one answer with a flag more.");
}

}  // namespace bindings
