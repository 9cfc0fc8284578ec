// Which integrator this processor can run, asked once a call: nothing is stored.
#include "kernel_api.hpp"

namespace decalesce::conduction {

#if defined(DECALESCE_WITH_AVX2)
extern const Kernel wide_kernel;

const Kernel* avx2_kernel() { return __builtin_cpu_supports("avx2") ? &wide_kernel : nullptr; }
#else
const Kernel* avx2_kernel() { return nullptr; }
#endif

const Kernel& fastest_kernel() {
  const Kernel* wide = avx2_kernel();
  return wide != nullptr ? *wide : portable_kernel();
}

}  // namespace decalesce::conduction
