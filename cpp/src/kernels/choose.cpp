// Which kernels this processor can run, asked once a call: nothing is stored.
#include "kernel_api.hpp"

namespace decalesce::kernels {

#if defined(DECALESCE_WITH_AVX2)
extern const Table wide_table;

const Table* avx2() { return __builtin_cpu_supports("avx2") ? &wide_table : nullptr; }
#else
const Table* avx2() { return nullptr; }
#endif

const Table& fastest() {
  const Table* wide = avx2();
  return wide != nullptr ? *wide : portable();
}

}  // namespace decalesce::kernels
