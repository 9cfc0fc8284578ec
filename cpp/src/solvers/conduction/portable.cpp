// The integrator for any processor.
#include "integrate.hpp"

namespace decalesce::conduction {

const Kernel& portable_kernel() {
  static constexpr Kernel kernel{2, [](Problem& problem) { Integrator<Packet<2>>(problem).run(); },
                                 [](Problem& problem) { Integrator<double, Packet<2>>(problem).run(); }};
  return kernel;
}

}  // namespace decalesce::conduction
