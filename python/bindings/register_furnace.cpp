#include <pybind11/stl.h>

#include <array>
#include <optional>

#include "decalesce/shop/furnace.hpp"
#include "register.hpp"

namespace bindings {

using namespace decalesce;
namespace py = pybind11;

namespace {

constexpr double mm = 1e-3;
constexpr std::array row_names{"single", "free", "spaced", "one_block"};

using Inside = std::array<double, 3>;

furnace::Furnace furnace_from(const Inside& inside_mm, double lining_mm, double power_W, double contents_J_K,
                              double room_C) {
  furnace::Furnace f;
  f.width = inside_mm[0] * mm;
  f.height = inside_mm[1] * mm;
  f.depth = inside_mm[2] * mm;
  f.lining.thickness = lining_mm * mm;
  f.power_W = power_W;
  f.contents_J_K = contents_J_K;
  f.room_C = room_C;
  return f;
}

py::dict answer_of(const furnace::Loaded& loaded, const furnace::Load& load, double resting_loss_W, Flags flags) {
  py::dict out;
  out["chamber"] = loaded.chamber;
  out["steel"] = loaded.steel;
  out["lowest_chamber_C"] = loaded.lowest_chamber_C;
  out["recovered_s"] = loaded.recovered_s;
  out["steel_within_s"] = loaded.steel_within_s;
  out["energy_J"] = loaded.energy_J;
  out["into_load_J"] = loaded.into_load_J;
  out["lost_J"] = loaded.lost_J;
  out["stored_J"] = loaded.stored_J;
  out["resting_loss_W"] = resting_loss_W;
  out["volume_m3"] = static_cast<double>(load.pieces) * load.piece_volume;
  out["units"] = static_cast<double>(load.pieces) * load.piece_volume / load.mesh.total_volume();
  out["row"] = row_names[static_cast<std::size_t>(load.row)];
  out["open_share"] = load.open;
  out["flags"] = (loaded.flags | flags).bits();
  return out;
}

}  // namespace

void register_furnace(py::module_& module) {
  py::list names;
  for (const tables::furnace::LiningRow& row : tables::furnace::linings) names.append(py::str(std::string(row.name)));
  module.attr("furnace_linings") = py::tuple(names);
  module.attr("furnace_longest_s") = tables::furnace::constants::longest;
  module.attr("furnace_steel_within_K") = tables::furnace::constants::steel_within;
  module.attr("furnace_recovered_within_K") = tables::furnace::constants::recovered_within;
  module.def(
      "furnace_loss",
      [](const Inside& inside_mm, const std::string& lining, double lining_mm, double room_C, double chamber_C) {
        Flags flags;
        // what the lining lets through asks for neither power nor contents
        const furnace::Furnace f =
            furnace::lined(furnace_from(inside_mm, lining_mm, 1.0, 0.0, room_C), lining, chamber_C, flags);
        furnace::check(f);
        return py::make_tuple(f.loss_W(chamber_C), flags.bits());
      },
      py::arg("inside_mm"), py::arg("lining"), py::arg("lining_mm"), py::arg("room_C"), py::arg("chamber_C"),
      "W at rest, and flags.");
  module.def(
      "furnace_contents",
      [](const Inside& inside_mm, double power_W, bool elements) {
        return furnace::usual_contents_J_K(furnace_from(inside_mm, 0.0, power_W, 0.0, 0.0), elements);
      },
      py::arg("inside_mm"), py::arg("power_W"), py::arg("elements"), "J/K of shelf and elements.");
  module.def(
      "open_share", [](double gap_mm, double depth_mm) { return furnace::open_share(gap_mm, depth_mm); },
      py::arg("gap_mm"), py::arg("depth_mm"), "Of a face that looks at its like.");
  module.def(
      "furnace_piece_volume",
      [](const Section& section, double length_mm) { return furnace::piece_volume(section, length_mm * mm); },
      py::arg("section"), py::arg("length_mm"), "m3.");
  module.def(
      "furnace_load",
      [](const Inside& inside_mm, const std::string& lining, double lining_mm, double power_W, double contents_J_K,
         double room_C, double film_W_m2K, double emissivity, const conduction::Material& material,
         const Section& section, double length_mm, std::size_t pieces, double gap_mm, int cells, double start_C,
         double door_open_s, bool door_switch, double set_point_C, double duration_s, double within_K, int finer) {
        Flags flags;
        furnace::Furnace f = furnace::lined(furnace_from(inside_mm, lining_mm, power_W, contents_J_K, room_C), lining,
                                            set_point_C, flags);
        f.film_W_m2K = film_W_m2K;
        f.emissivity = emissivity;
        furnace::Load load = furnace::side_by_side(section, length_mm * mm, pieces, gap_mm * mm, cells);
        load.start_C = start_C;
        load.door_open_s = door_open_s;
        load.door_switch = door_switch;
        const furnace::Options options{
            .set_point_C = set_point_C, .duration_s = duration_s, .within_K = within_K, .finer = finer};
        std::optional<furnace::Loaded> loaded;
        {
          const py::gil_scoped_release others_may_run;
          loaded = furnace::load(f, material, load, options);
        }
        return answer_of(*loaded, load, f.loss_W(set_point_C), flags);
      },
      py::arg("inside_mm"), py::arg("lining"), py::arg("lining_mm"), py::arg("power_W"), py::arg("contents_J_K"),
      py::arg("room_C"), py::arg("film_W_m2K"), py::arg("emissivity"), py::arg("material"), py::arg("section"),
      py::arg("length_mm"), py::arg("pieces"), py::arg("gap_mm"), py::arg("cells"), py::arg("start_C"),
      py::arg("door_open_s"), py::arg("door_switch"), py::arg("set_point_C"), py::arg("duration_s"),
      py::arg("within_K"), py::arg("finer"), "The parts of an answer, by name.");
}

}  // namespace bindings
