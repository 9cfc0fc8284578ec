// The integrator for processors with AVX2; CMake gives this file alone the compiler option for it.
#include "integrate.hpp"

namespace decalesce::conduction {

extern const Kernel wide_kernel;
constexpr Kernel wide_kernel{4, [](Problem& problem) { Integrator<Packet<4>>(problem).run(); },
                             [](Problem& problem) { Integrator<double, Packet<4>>(problem).run(); }};

}  // namespace decalesce::conduction
