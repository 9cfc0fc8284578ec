#include "steel_state_types.hpp"

#include <pybind11/stl.h>

#include <cmath>
#include <sstream>

#include "decalesce/quench.hpp"
#include "register.hpp"

namespace bindings {

using namespace decalesce;

namespace {

constexpr int pickle_version = 1;

// Ends of the Rockwell C scale as ASTM E140 tabulates it, a little above for hard steel.
constexpr double lowest_HRC = 20.0;
constexpr double highest_HRC = 70.0;

std::string made_name(const Austenite& a) {
  return std::string(austenite_made_names[static_cast<std::size_t>(a.made)]);
}

AusteniteMade made_named(const std::string& name) {
  for (std::size_t k = 0; k < austenite_made_names.size(); ++k)
    if (austenite_made_names[k] == name) return static_cast<AusteniteMade>(k);
  throw py::value_error("Austenite: made = '" + name +
                        "'; expected all_dissolved, at_equilibrium, dissolved_along_a_history or screen_rule");
}

void check_range(const char* argument, double value, double low, double high, const char* expected) {
  if (std::isnan(value) || (value >= low && value <= high)) return;
  std::ostringstream what;
  what << "Austenite: " << argument << " = " << value << "; expected " << expected;
  throw py::value_error(what.str());
}

PyAustenite make_austenite(const PyComposition& in_solution, double cementite_wt, double alloy_carbide_wt,
                           double grain_um, double carbon_half_width, const std::string& made) {
  check_range("cementite_wt", cementite_wt, 0.0, 100.0, "0 to 100 wt %");
  check_range("alloy_carbide_wt", alloy_carbide_wt, 0.0, 100.0, "0 to 100 wt %");
  check_range("grain_um", grain_um, 1e-3, 1e5, "a grain size in micrometres above zero, or NaN where not known");
  check_range("carbon_half_width", carbon_half_width, 0.0, 100.0, "0 wt % or more");
  const AusteniteMade how = made_named(made);
  return each_steel<Austenite>(in_solution, [&](const Composition& c) {
    return Austenite{c, cementite_wt, alloy_carbide_wt, grain_um, carbon_half_width, how};
  });
}

PyComposition in_solution_of(const PyAustenite& a) {
  if (a.is_one()) {
    PyComposition c;
    c.one = a.row(0).in_solution;
    return c;
  }
  std::vector<Composition> rows;
  rows.reserve(a.rows());
  for (std::size_t i = 0; i < a.rows(); ++i) rows.push_back(a.row(i).in_solution);
  return compositions_of(a.shape(), rows);
}

py::object made_of(const PyAustenite& a) {
  if (a.is_one()) return py::str(made_name(a.row(0)));
  py::list names;
  for (std::size_t i = 0; i < a.rows(); ++i) names.append(py::str(made_name(a.row(i))));
  return py::tuple(names);
}

bool same_number(double x, double y) { return x == y || (std::isnan(x) && std::isnan(y)); }

bool same_composition(const Composition& a, const Composition& b) {
  bool same = a.stated == b.stated;
  for_each_element([&](Element e) {
    same = same && same_number(a.amount[e], b.amount[e]) && same_number(a.half_width[index(e)], b.half_width[index(e)]);
  });
  return same;
}

bool same_austenite(const Austenite& a, const Austenite& b) {
  return same_composition(a.in_solution, b.in_solution) && same_number(a.cementite_wt, b.cementite_wt) &&
         same_number(a.alloy_carbide_wt, b.alloy_carbide_wt) && same_number(a.grain_um, b.grain_um) &&
         same_number(a.carbon_half_width, b.carbon_half_width) && a.made == b.made;
}

bool same_estimate(const Estimate& a, const Estimate& b) {
  return same_number(a.value, b.value) && same_number(a.low, b.low) && same_number(a.high, b.high) &&
         a.unit == b.unit && a.flags == b.flags;
}

bool same_as_quenched(const AsQuenched& a, const AsQuenched& b) {
  return same_austenite(a.austenite, b.austenite) && same_estimate(a.hardness_HRC, b.hardness_HRC) &&
         same_estimate(a.martensite, b.martensite) && same_estimate(a.retained_austenite, b.retained_austenite) &&
         a.measured == b.measured;
}

template <class Value, class Same>
bool all_rows_same(const OneOrMany<Value>& a, const OneOrMany<Value>& b, Same&& same) {
  if (a.is_one() != b.is_one() || a.shape() != b.shape()) return false;
  for (std::size_t i = 0; i < a.rows(); ++i)
    if (!same(a.row(i), b.row(i))) return false;
  return true;
}

std::string print(const PyAustenite& a) {
  std::ostringstream out;
  if (!a.is_one()) {
    out << "Austenite(" << a.rows() << " steels)";
    return out.str();
  }
  const Austenite& one = a.row(0);
  out << "Austenite(" << one.in_solution.amount.C << " %C in solution";
  if (one.carbon_half_width > 0.0) out << " +-" << one.carbon_half_width;
  if (one.cementite_wt > 0.0) out << ", cementite " << one.cementite_wt << " wt %";
  if (one.alloy_carbide_wt > 0.0) out << ", alloy carbide " << one.alloy_carbide_wt << " wt %";
  if (one.grain_um > 0.0) out << ", grain " << one.grain_um << " um";
  out << ", " << made_name(one) << ")";
  return out.str();
}

std::string print(const PyAsQuenched& q) {
  std::ostringstream out;
  if (!q.is_one()) {
    out << "AsQuenched(" << q.rows() << " steels)";
    return out.str();
  }
  const AsQuenched& one = q.row(0);
  out.precision(3);
  out << "AsQuenched(" << one.hardness_HRC.value << " HRC" << (one.measured ? " measured" : "")
      << ", retained austenite " << 100.0 * one.retained_austenite.value << " %, " << one.austenite.in_solution.amount.C
      << " %C in solution)";
  return out.str();
}

template <class Value>
py::tuple shape_tuple(const OneOrMany<Value>& from) {
  return from.is_one() ? py::tuple() : py::tuple(py::cast(from.shape()));
}

py::tuple freeze(const PyAustenite& a) {
  return py::make_tuple(pickle_version, in_solution_of(a),
                        numbers_of(a, [](const Austenite& x) { return x.cementite_wt; }),
                        numbers_of(a, [](const Austenite& x) { return x.alloy_carbide_wt; }),
                        numbers_of(a, [](const Austenite& x) { return x.grain_um; }),
                        numbers_of(a, [](const Austenite& x) { return x.carbon_half_width; }), made_of(a));
}

double number_at(const py::handle& from, std::size_t i) {
  if (PyFloat_Check(from.ptr())) return py::cast<double>(from);
  return Doubles::ensure(from).data()[i];
}

PyAustenite thaw_austenite(const py::tuple& state) {
  if (state.size() != 7 || py::cast<int>(state[0]) != pickle_version)
    throw py::value_error("Austenite: this pickle was written by another version; compute it again");
  const auto in_solution = py::cast<PyComposition>(state[1]);
  std::size_t i = 0;
  return each_steel<Austenite>(in_solution, [&](const Composition& c) {
    const std::string made =
        in_solution.is_one() ? py::cast<std::string>(state[6]) : py::cast<std::string>(py::tuple(state[6])[i]);
    const Austenite a{c,
                      number_at(state[2], i),
                      number_at(state[3], i),
                      number_at(state[4], i),
                      number_at(state[5], i),
                      made_named(made)};
    ++i;
    return a;
  });
}

PyAsQuenched thaw_as_quenched(const py::tuple& state) {
  if (state.size() != 6 || py::cast<int>(state[0]) != pickle_version)
    throw py::value_error("AsQuenched: this pickle was written by another version; compute it again");
  const auto austenite = py::cast<PyAustenite>(state[1]);
  const auto hardness = py::cast<PyEstimate>(state[2]);
  const auto martensite = py::cast<PyEstimate>(state[3]);
  const auto retained = py::cast<PyEstimate>(state[4]);
  const bool measured = py::cast<bool>(state[5]);
  std::size_t i = 0;
  return each_row<AsQuenched>(austenite, [&](const Austenite& a) {
    const AsQuenched q{a, estimate_row(hardness, i), estimate_row(martensite, i), estimate_row(retained, i), measured};
    ++i;
    return q;
  });
}

void register_austenite_class(py::module_& module) {
  py::class_<PyAustenite>(module, "Austenite",
                          R"(The steel as it goes into the quench: what is in solution, what is left.

`in_solution` is the composition of the austenite, not of the bar; `cementite_wt` and `alloy_carbide_wt` the carbide left
(wt %); `grain_um` the grain size (NaN where not known); `carbon_half_width` how far the carbon in solution may be off
(wt %); `made` how it was made. Make one with `decalesce.austenite.dissolve(w, decalesce.hold(temperature, time))`, or with
`Austenite.all_dissolved(w)` where everything is in solution. Of a batch of steels the properties are arrays.)")
      .def(py::init(&make_austenite), py::arg("in_solution"), py::arg("cementite_wt") = 0.0,
           py::arg("alloy_carbide_wt") = 0.0, py::arg("grain_um") = NAN, py::arg("carbon_half_width") = 0.0,
           py::arg("made") = "all_dissolved")
      .def_static(
          "all_dissolved",
          [](const PyComposition& w, double grain_um) {
            return make_austenite(w, 0.0, 0.0, grain_um, 0.0, "all_dissolved");
          },
          py::arg("w"), py::arg("grain_um") = NAN,
          "Everything the bar holds is in solution: true above A3 or Acm, or as an upper bound.")
      .def_property_readonly("in_solution", &in_solution_of, "Composition of the austenite.")
      .def_property_readonly(
          "cementite_wt",
          [](const PyAustenite& a) { return numbers_of(a, [](const Austenite& x) { return x.cementite_wt; }); },
          "Cementite left, wt %.")
      .def_property_readonly(
          "alloy_carbide_wt",
          [](const PyAustenite& a) { return numbers_of(a, [](const Austenite& x) { return x.alloy_carbide_wt; }); },
          "Alloy carbide left, wt %.")
      .def_property_readonly(
          "grain_um", [](const PyAustenite& a) { return numbers_of(a, [](const Austenite& x) { return x.grain_um; }); },
          "Grain size, micrometres; NaN where not known.")
      .def_property_readonly(
          "carbon_half_width",
          [](const PyAustenite& a) { return numbers_of(a, [](const Austenite& x) { return x.carbon_half_width; }); },
          "Half-width of the carbon in solution, wt %.")
      .def_property_readonly("made", &made_of, "How it was made.")
      .def_property_readonly("shape", &shape_tuple<Austenite>, "Shape of the batch; () for one steel.")
      .def("__eq__",
           [](const PyAustenite& a, const py::object& b) {
             return py::isinstance<PyAustenite>(b) && all_rows_same(a, py::cast<const PyAustenite&>(b), same_austenite);
           })
      .def("__hash__",
           [](const PyAustenite& a) {
             if (!a.is_one()) throw py::type_error("Austenite: a batch cannot be hashed");
             return py::hash(py::make_tuple(py::hash(py::cast(in_solution_of(a))), for_hash(a.row(0).cementite_wt)));
           })
      .def("__repr__", [](const PyAustenite& a) { return print(a); })
      .def(py::pickle(&freeze, &thaw_austenite));
}

void register_as_quenched_class(py::module_& module) {
  py::class_<PyAsQuenched>(module, "AsQuenched", R"(The steel as it comes out of the quench.

`hardness_HRC`, `martensite` and `retained_austenite` (fractions of the whole) are Estimates; `austenite` is what went into
the quench; `is_measured` tells a reading from a computed hardness. Make one with `AsQuenched.fully_hardened(austenite)`
or, better, with `AsQuenched.measured(64.5, austenite)`.)")
      .def_static(
          "fully_hardened",
          [](const py::object& austenite, double cooled_to_C) {
            return each_row<AsQuenched>(austenite_from(austenite, "AsQuenched.fully_hardened"),
                                        [&](const Austenite& a) { return quench::fully_hardened(a, cooled_to_C); });
          },
          py::arg("austenite"), py::arg("cooled_to_C") = martensite::rule::room_temperature,
          R"(Hardened fully, no pearlite and no bainite, cooled to a temperature (degC).

Hardness from the carbon in solution (wt %), valid from 0.10 %C: ASTM A255 up to 0.70 %C, one ceiling of 66 HRC above, less
what much retained austenite takes. Band 2.5 HRC, 1.4 on the ceiling, plus what the carbon leaves open. Above 1.7 %Cr in
solution the retained austenite is NaN, flagged `no_model`. NaN in, NaN out. Raises TypeError for a bar's composition.)")
      .def_static(
          "measured",
          [](double hrc, const py::object& austenite, double reading_half_width_HRC) {
            if (hrc < lowest_HRC || hrc > highest_HRC) {
              std::ostringstream what;
              what << "AsQuenched.measured: hrc = " << hrc << "; expected a Rockwell C reading of 20 to 70 (HB or HV "
                   << "is converted with decalesce.scales)";
              throw py::value_error(what.str());
            }
            if (!(reading_half_width_HRC > 0.0))
              throw py::value_error("AsQuenched.measured: reading_half_width_HRC must be above zero");
            return each_row<AsQuenched>(austenite_from(austenite, "AsQuenched.measured"), [&](const Austenite& a) {
              return quench::measured(hrc, a, reading_half_width_HRC);
            });
          },
          py::arg("hrc"), py::arg("austenite"), py::arg("reading_half_width_HRC") = martensite::rule::hardness_reading,
          R"(Hardness as read on the quenched piece, HRC, with the error of a good reading (1 HRC) unless another is given.

Raises ValueError for a reading off the Rockwell C scale (20 to 70), TypeError for a bar's composition.)")
      .def_property_readonly(
          "austenite",
          [](const PyAsQuenched& q) { return each_row<Austenite>(q, [](const AsQuenched& x) { return x.austenite; }); },
          "What went into the quench.")
      .def_property_readonly(
          "hardness_HRC",
          [](const PyAsQuenched& q) {
            return estimates_of(q, [](const AsQuenched& x) -> const Estimate& { return x.hardness_HRC; });
          },
          "As-quenched hardness, HRC.")
      .def_property_readonly(
          "martensite",
          [](const PyAsQuenched& q) {
            return estimates_of(q, [](const AsQuenched& x) -> const Estimate& { return x.martensite; });
          },
          "Martensite, fraction of the whole.")
      .def_property_readonly(
          "retained_austenite",
          [](const PyAsQuenched& q) {
            return estimates_of(q, [](const AsQuenched& x) -> const Estimate& { return x.retained_austenite; });
          },
          "Retained austenite, fraction of the whole.")
      .def_property_readonly(
          "is_measured", [](const PyAsQuenched& q) { return q.rows() > 0 && q.row(0).measured; },
          "Whether the hardness was read.")
      .def_property_readonly("shape", &shape_tuple<AsQuenched>, "Shape of the batch; () for one steel.")
      .def("__eq__",
           [](const PyAsQuenched& a, const py::object& b) {
             return py::isinstance<PyAsQuenched>(b) &&
                    all_rows_same(a, py::cast<const PyAsQuenched&>(b), same_as_quenched);
           })
      .def("__hash__",
           [](const PyAsQuenched& q) {
             if (!q.is_one()) throw py::type_error("AsQuenched: a batch cannot be hashed");
             return py::hash(py::make_tuple(for_hash(q.row(0).hardness_HRC.value),
                                            for_hash(q.row(0).austenite.in_solution.amount.C)));
           })
      .def("__repr__", [](const PyAsQuenched& q) { return print(q); })
      .def(py::pickle(
          [](const PyAsQuenched& q) {
            return py::make_tuple(
                pickle_version, each_row<Austenite>(q, [](const AsQuenched& x) { return x.austenite; }),
                estimates_of(q, [](const AsQuenched& x) -> const Estimate& { return x.hardness_HRC; }),
                estimates_of(q, [](const AsQuenched& x) -> const Estimate& { return x.martensite; }),
                estimates_of(q, [](const AsQuenched& x) -> const Estimate& { return x.retained_austenite; }),
                q.rows() > 0 && q.row(0).measured);
          },
          &thaw_as_quenched));
}

}  // namespace

PyAustenite austenite_from(const py::handle& given, const std::string& asked_by) {
  if (py::isinstance<PyAustenite>(given)) return py::cast<PyAustenite>(given);
  if (py::isinstance<PyComposition>(given) || py::hasattr(given, "composition"))
    throw py::type_error(
        asked_by +
        ": got the composition of a bar; expected an Austenite, what is in solution. Make one with "
        "decalesce.austenite.dissolve(w, decalesce.hold(temperature, time)), or with Austenite.all_dissolved(w) where "
        "everything is in solution");
  throw py::type_error(
      asked_by + ": got " + py::cast<std::string>(py::repr(given)) +
      "; expected an Austenite, e.g. decalesce.austenite.dissolve(w, decalesce.hold(temperature, time))");
}

Estimate estimate_row(const PyEstimate& e, std::size_t i) {
  if (e.is_one()) return e.one;
  Estimate row = e.one;
  e.columns->open_band();
  row.value = e.columns->value.data()[i];
  row.low = e.columns->low.data()[i];
  row.high = e.columns->high.data()[i];
  row.flags = Flags::from_bits(e.columns->flags.data()[i]);
  if (e.columns->has_parts)
    for (std::size_t k = 0; k < part_count; ++k) row.parts[k] = e.columns->parts[k].data()[i];
  return row;
}

PyComposition compositions_of(const Shape& shape, const std::vector<Composition>& rows) {
  auto columns = std::make_shared<CompositionColumns>();
  columns->shape = shape;
  columns->rows = rows.size();
  for (std::size_t k = 0; k < element_count; ++k) {
    std::vector<double> amount(rows.size());
    std::vector<double> half(rows.size());
    std::vector<std::uint8_t> stated(rows.size());
    for (std::size_t i = 0; i < rows.size(); ++i) {
      amount[i] = rows[i].amount[static_cast<Element>(k)];
      half[i] = rows[i].half_width[k];
      stated[i] = static_cast<std::uint8_t>(rows[i].stated[k]);
    }
    columns->amount[k] = std::make_shared<const std::vector<double>>(std::move(amount));
    columns->half_width[k] = std::make_shared<const std::vector<double>>(std::move(half));
    columns->stated[k] = std::make_shared<const std::vector<std::uint8_t>>(std::move(stated));
  }
  PyComposition made;
  made.columns = columns;
  return made;
}

void register_steel_state(py::module_& module) {
  register_austenite_class(module);
  register_as_quenched_class(module);
}

}  // namespace bindings
