#include "result_block.hpp"

#if defined(__linux__)
#include <sys/mman.h>
#endif

#include <cstdint>
#include <new>

namespace bindings {

#if defined(__linux__)

namespace {

constexpr std::size_t huge_page = std::size_t{1} << 21;
/// Columns start at different places within a page: written side by side, they then do not fight for one cache line.
constexpr std::size_t stagger = 576;

struct Mapping {
  void* at;
  std::size_t size;
};

std::size_t rounded_up(std::size_t size, std::size_t to) { return (size + to - 1) / to * to; }

}  // namespace

ResultBlock::ResultBlock(const Shape& shape, std::size_t columns) : shape_(shape) {
  std::size_t bytes = sizeof(double);
  for (py::ssize_t side : shape) bytes *= static_cast<std::size_t>(side);
  stride_ = rounded_up(bytes, 4096) + stagger;
  const std::size_t size = stride_ * columns;
  if (size < 2 * huge_page) return;
  const std::size_t mapped = size + huge_page;  // so that a boundary of huge pages lies inside; the rest costs nothing
  void* at = mmap(nullptr, mapped, PROT_READ | PROT_WRITE, MAP_PRIVATE | MAP_ANONYMOUS, -1, 0);
  if (at == MAP_FAILED) throw std::bad_alloc();
  owner_ = py::capsule(new Mapping{at, mapped}, [](void* held) {
    const auto* m = static_cast<Mapping*>(held);
    munmap(m->at, m->size);
    delete m;
  });
  base_ = reinterpret_cast<char*>(rounded_up(reinterpret_cast<std::uintptr_t>(at), huge_page));
  madvise(base_, size, MADV_HUGEPAGE);  // only advice: without huge pages the block is slower, not wrong
}

#else

ResultBlock::ResultBlock(const Shape& shape, std::size_t) : shape_(shape) {}

#endif

}  // namespace bindings
