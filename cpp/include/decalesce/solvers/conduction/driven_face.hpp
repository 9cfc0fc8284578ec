#pragma once
// A plate with one face driven as a sine and the other held: a surface temperature that changes with time.
// [CarslawJaeger1959] [NAFEMS_T3]

namespace decalesce::conduction::closed {

/// Share of the amplitude at `depth` (m) from the driven face of a plate `thickness` m thick, all at 0 when the sine
/// begins; the other face stays at 0. `period` and `time` in s. Any time >= 0: the steady swing in closed form, less
/// what starting from rest adds, a series that dies out. NaN for a depth outside the plate.
double sine_face(double depth, double time, double thickness, double period, double diffusivity);

}  // namespace decalesce::conduction::closed
