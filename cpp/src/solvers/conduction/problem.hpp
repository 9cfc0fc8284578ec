#pragma once
// Lays out meshes, materials and surroundings as the integrator wants them, lanes together.
#include <memory>
#include <span>
#include <string>
#include <vector>

#include "decalesce/solvers/conduction/run.hpp"
#include "kernel_api.hpp"

namespace decalesce::conduction {

/// Empty for what can be solved; else the sentence for an error.
std::string trouble(const Mesh& mesh, const Surroundings& surroundings, double tolerance_K);

/// One packet of bodies of the same mesh but for its sizes. The arrays live as long as this does.
class Packed {
 public:
  /// `lanes` bodies; the last is repeated when there are fewer.
  Packed(std::span<const Body> bodies, int lanes, double tolerance_K);

  Problem& problem() { return problem_; }
  double& enthalpy(int point, int lane) { return enthalpy_[static_cast<std::size_t>(point * lanes_ + lane)]; }
  double heat(int lane) const { return heat_[static_cast<std::size_t>(lane)]; }

 private:
  int lanes_;
  std::vector<int> from_, to_, face_point_;
  std::vector<double> conductance_, volume_, face_area_, enthalpy_, heat_, work_;
  std::vector<Lane> lane_;
  Problem problem_{};
};

}  // namespace decalesce::conduction
