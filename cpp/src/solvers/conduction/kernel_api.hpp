#pragma once
// What the integrator is given and tells: plain pointers only, so that a file built for a newer processor shares no
// inline code with the rest of the program. Arrays of a point, link or face hold one number a lane, lanes together.
#include <cstddef>

namespace decalesce::conduction {

/// What differs between the bodies that travel together.
struct Lane {
  const double* bins;   // Material::Bin as eight doubles each, a straight one before and after
  double low;           // enthalpy where bin 1 starts, J/m3
  double width;         // of a bin, J/m3
  double last_bin;      // number of the straight one at the end
  const double* times;  // of the surroundings, s, increasing
  const double* temperatures;
  std::size_t knots;
  double film;        // W/m2K
  double emissivity;  // 0 for none
  double start;       // s
  double end;         // s
  double tolerance;   // K
};

/// One accepted step of one lane: value at s in [0, 1] of the step is
/// y0 (1-s) + s (y1 + (1-s) (c2 + s c3)), an interpolant of third order.
struct Step {
  int lane;
  int stride;  // from one point to the next in the arrays below
  double from, to;
  const double* y0;
  const double* y1;
  const double* c2;
  const double* c3;
  double heat0, heat1;  // taken up since the start, J (per metre or radian, as the volumes)
  double furnace0, furnace1;
};

struct Problem {
  int points, links, faces, band;
  bool chain;  // links join each point to the next only
  const int* from;
  const int* to;
  const double* conductance;  // links x lanes, m
  const double* volume;       // points x lanes
  const int* face_point;
  const double* face_area;  // faces x lanes, exposure included
  const Lane* lanes;
  double* enthalpy;  // points x lanes, J/m3, in and out
  double* heat;      // lanes, in and out
  double* work;      // work_size doubles, aligned to 64 bytes
  void* observer;
  bool (*accepted)(void* observer, const Step& step);  // true: this lane has seen enough
  long steps, rejected;                                // out, all lanes together
};

using Integrate = void (*)(Problem&);

struct Kernel {
  int lanes;
  Integrate together;  // `lanes` bodies
  Integrate one;       // one body
};

const Kernel& portable_kernel();
/// Null where this program or this processor has no AVX2.
const Kernel* avx2_kernel();
/// The faster of the two that this processor can run.
const Kernel& fastest_kernel();

constexpr int stage_count = 6;
/// Doubles of scratch a problem of so many points and half-bandwidth wants.
constexpr std::size_t work_size(int points, int faces, int band, int lanes) {
  const int arrays = stage_count + 10 + band + 1;
  return static_cast<std::size_t>(lanes) * static_cast<std::size_t>(points * arrays + faces);
}

}  // namespace decalesce::conduction
