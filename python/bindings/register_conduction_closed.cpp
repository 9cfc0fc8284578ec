// Closed forms of conduction. Numbers and arrays are broadcast here; lengths are m, temperatures K.
#include <pybind11/numpy.h>
#include <pybind11/stl.h>

#include <utility>

#include "decalesce/solvers/conduction/closed_forms.hpp"
#include "register.hpp"

namespace bindings {

namespace py = pybind11;
namespace closed = decalesce::conduction::closed;

namespace {

using Doubles = py::array_t<double>;

closed::Body body_named(const std::string& name) {
  for (std::size_t k = 0; k < closed::body_names.size(); ++k)
    if (closed::body_names[k] == name) return static_cast<closed::Body>(k);
  throw py::value_error("body = '" + name + "'; expected 'plate', 'cylinder' or 'sphere'");
}

/// Series by Bi: the terms found for one serve all rows in a run with the same Bi.
class SeriesOfRows {
 public:
  explicit SeriesOfRows(const std::string& body) : series_(body_named(body), 0.0) {}
  closed::Series& of(double biot) {
    if (biot != series_.biot()) series_ = closed::Series(series_.body(), biot);
    return series_;
  }

 private:
  closed::Series series_;
};

/// A function of Bi, a second number and a position, or of the first two, row by row.
template <class Row>
py::object by_position(const std::string& body, const Doubles& biot, const Doubles& second, const Doubles& position,
                       Row row) {
  SeriesOfRows rows(body);
  return py::vectorize([&](double b, double f, double s) { return row(rows.of(b), f, s); })(biot, second, position);
}
template <class Row>
py::object over_volume(const std::string& body, const Doubles& biot, const Doubles& second, Row row) {
  SeriesOfRows rows(body);
  return py::vectorize([&](double b, double f) { return row(rows.of(b), f); })(biot, second);
}

void register_series(py::module_& module) {
  using closed::Series;
  const auto body = py::arg("body");
  const auto biot = py::arg("biot");
  module.def(
      "conduction_term",
      [](const std::string& name, const Doubles& number, int n) {
        const closed::Body kind = body_named(name);
        py::object root = py::vectorize([=](double b) { return closed::term(kind, b, n).root; })(number);
        py::object factor = py::vectorize([=](double b) { return closed::term(kind, b, n).coefficient; })(number);
        return py::make_tuple(root, factor);
      },
      body, biot, py::arg("n"), "(zeta_n, C_n) of the series, n from 0.");
  module.def(
      "conduction_theta",
      [](const std::string& name, const Doubles& b, const Doubles& f, const Doubles& s) {
        return by_position(name, b, f, s, [](Series& x, double fo, double at) { return x.theta(fo, at); });
      },
      body, biot, py::arg("fourier"), py::arg("position"), "Temperature left, as a share.");
  module.def(
      "conduction_one_term",
      [](const std::string& name, const Doubles& b, const Doubles& f, const Doubles& s) {
        py::object theta =
            by_position(name, b, f, s, [](Series& x, double fo, double at) { return x.one_term(fo, at).theta; });
        py::object outside = by_position(
            name, b, f, s, [](Series& x, double fo, double at) { return x.one_term(fo, at).outside ? 1.0 : 0.0; });
        return py::make_tuple(theta, outside);
      },
      body, biot, py::arg("fourier"), py::arg("position"),
      "(temperature left by one term, 1 where that is not enough).");
  module.def(
      "conduction_mean",
      [](const std::string& name, const Doubles& b, const Doubles& f) {
        return over_volume(name, b, f, [](Series& x, double fo) { return x.mean(fo); });
      },
      body, biot, py::arg("fourier"), "Mean temperature left, as a share.");
  module.def(
      "conduction_fourier_at",
      [](const std::string& name, const Doubles& b, const Doubles& theta, const Doubles& s) {
        return by_position(name, b, theta, s, [](Series& x, double left, double at) { return x.fourier_at(left, at); });
      },
      body, biot, py::arg("theta"), py::arg("position"), "Fourier number at which this share is left.");
  module.def(
      "conduction_fourier_at_mean",
      [](const std::string& name, const Doubles& b, const Doubles& mean) {
        return over_volume(name, b, mean, [](Series& x, double left) { return x.fourier_at_mean(left); });
      },
      body, biot, py::arg("mean"), "Fourier number at which this share is left in the mean.");
}

closed::Piece make_piece(const std::vector<std::pair<std::string, double>>& directions, bool semi_infinite, double film,
                         double conductivity, double diffusivity) {
  std::vector<closed::Piece::Direction> all;
  for (const auto& [name, half] : directions) all.push_back({body_named(name), half});
  return closed::Piece(all, semi_infinite, film, conductivity, diffusivity);
}

void register_piece(py::module_& module) {
  using closed::Piece;
  using Place = std::array<double, 3>;
  py::class_<Piece>(module, "ConductionPiece", "A piece heated or cooled all round, by products of series; lengths m.")
      .def(py::init(&make_piece), py::arg("directions"), py::arg("semi_infinite"), py::arg("film"),
           py::arg("conductivity"), py::arg("diffusivity"))
      .def(
          "theta",
          [](Piece& piece, const Doubles& time, const Doubles& x, const Doubles& y, const Doubles& z) {
            return py::vectorize(
                [&](double t, double a, double b, double c) { return piece.theta(t, Place{a, b, c}); })(time, x, y, z);
          },
          py::arg("time"), py::arg("x"), py::arg("y"), py::arg("z"))
      .def(
          "mean",
          [](Piece& piece, const Doubles& time) {
            return py::vectorize([&](double t) { return piece.mean(t); })(time);
          },
          py::arg("time"))
      .def(
          "time_to",
          [](Piece& piece, const Doubles& theta, const Doubles& x, const Doubles& y, const Doubles& z) {
            return py::vectorize([&](double left, double a, double b, double c) {
              return piece.time_to(left, Place{a, b, c});
            })(theta, x, y, z);
          },
          py::arg("theta"), py::arg("x"), py::arg("y"), py::arg("z"))
      .def(
          "time_to_mean",
          [](Piece& piece, const Doubles& mean) {
            return py::vectorize([&](double left) { return piece.time_to_mean(left); })(mean);
          },
          py::arg("mean"))
      .def("biot", &Piece::biot, py::arg("direction"));
}

void register_half_space(py::module_& module) {
  const auto depth = py::arg("depth");
  const auto time = py::arg("time");
  const auto share = py::arg("share");
  const auto rise = py::arg("rise");
  const auto film = py::arg("film");
  const auto flux = py::arg("flux");
  const auto energy = py::arg("energy");
  const auto heat = py::arg("volumetric_heat");
  const auto k = py::arg("conductivity");
  const auto alpha = py::arg("diffusivity");
  module.def("half_space_step", py::vectorize(closed::half_space_step), depth, time, alpha);
  module.def("half_space_step_time", py::vectorize(closed::half_space_step_time), share, depth, alpha);
  module.def("half_space_step_depth", py::vectorize(closed::half_space_step_depth), share, time, alpha);
  module.def("half_space_film", py::vectorize(closed::half_space_film), depth, time, film, k, alpha);
  module.def("half_space_film_time", py::vectorize(closed::half_space_film_time), share, depth, film, k, alpha);
  module.def("half_space_flux", py::vectorize(closed::half_space_flux), depth, time, flux, k, alpha);
  module.def("half_space_flux_time", py::vectorize(closed::half_space_flux_time), rise, depth, flux, k, alpha);
  module.def("half_space_pulse", py::vectorize(closed::half_space_pulse), depth, time, energy, heat, alpha);
  module.def("half_space_pulse_time", py::vectorize(closed::half_space_pulse_time), rise, depth, energy, heat, alpha);
  module.def("half_space_wave_amplitude", py::vectorize([](double x, double period, double a) {
               return closed::half_space_wave(x, period, a).amplitude;
             }),
             depth, py::arg("period"), alpha);
  module.def("half_space_wave_lag",
             py::vectorize([](double x, double period, double a) { return closed::half_space_wave(x, period, a).lag; }),
             depth, py::arg("period"), alpha);
  module.def("half_space_wave_depth", py::vectorize(closed::half_space_wave_depth), share, py::arg("period"), alpha);
  module.def("sine_face", py::vectorize(closed::sine_face), depth, time, py::arg("thickness"), py::arg("period"),
             alpha);
}

void register_lumped(py::module_& module) {
  const auto length = py::arg("length");
  const auto film = py::arg("film");
  const auto heat = py::arg("volumetric_heat");
  const auto start = py::arg("start");
  const auto target = py::arg("target");
  const auto gas = py::arg("gas");
  const auto emissivity = py::arg("emissivity");
  const auto walls = py::arg("walls");
  module.attr("one_term_least_fourier") = closed::one_term_least_fourier;
  module.attr("series_least_fourier") = closed::Series::least_fourier;
  module.attr("lumped_greatest_biot") = closed::lumped_greatest_biot;
  module.def("biot_number", py::vectorize(closed::biot_number), film, length, py::arg("conductivity"));
  module.def(
      "what_limits",
      [](double biot) {
        const closed::Limit limit = closed::what_limits(biot);
        return std::pair(std::string(closed::limit_names[static_cast<std::size_t>(limit)]),
                         std::string(closed::limit_sentence(limit)));
      },
      py::arg("biot"), "(film, both, conduction or unknown; the sentence).");
  module.def("lumped_theta", py::vectorize(closed::lumped_theta), py::arg("time"), length, film, heat);
  module.def("lumped_time", py::vectorize(closed::lumped_time), py::arg("theta"), length, film, heat);
  module.def("steady_temperature", py::vectorize([](double h, double g, double e, double w) {
               return closed::steady_temperature({h, g, e, w});
             }),
             film, gas, emissivity, walls);
  module.def("lumped_radiation_time",
             py::vectorize([](double from, double to, double l, double c, double h, double g, double e, double w) {
               return closed::lumped_radiation_time(from, to, l, c, {h, g, e, w});
             }),
             start, target, length, heat, film, gas, emissivity, walls);
  module.def("lumped_radiation_temperature",
             py::vectorize([](double from, double t, double l, double c, double h, double g, double e, double w) {
               return closed::lumped_radiation_temperature(from, t, l, c, {h, g, e, w});
             }),
             start, py::arg("time"), length, heat, film, gas, emissivity, walls);
  module.def("radiation_only_time", py::vectorize(closed::radiation_only_time), start, target, length, heat, emissivity,
             walls);
}

}  // namespace

void register_conduction_closed(py::module_& module) {
  register_series(module);
  register_piece(module);
  register_half_space(module);
  register_lumped(module);
}

}  // namespace bindings
