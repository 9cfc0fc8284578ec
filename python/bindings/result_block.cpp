#include "result_block.hpp"

#if defined(__linux__)
#include <sys/mman.h>
#endif

#include <cstdint>
#include <mutex>
#include <new>
#include <vector>

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

/// Memory of results that are gone, kept for the next result of like size. Handing out fresh pages costs a third of the
/// time of the fastest kernel, and a rack is evaluated block after block of the same size.
class Kept {
 public:
  static constexpr std::size_t most = std::size_t{256} << 20;

  /// A kept mapping that is large enough and not wastefully large; nothing if there is none.
  Mapping take(std::size_t size) {
    const std::lock_guard<std::mutex> lock(mutex_);
    for (std::size_t i = 0; i < mappings_.size(); ++i) {
      const Mapping m = mappings_[i];
      if (m.size < size || m.size > 2 * size) continue;
      mappings_.erase(mappings_.begin() + static_cast<std::ptrdiff_t>(i));
      total_ -= m.size;
      return m;
    }
    return {nullptr, 0};
  }

  void give_back(const Mapping& m) {
    const std::lock_guard<std::mutex> lock(mutex_);
    if (total_ + m.size > most) {
      munmap(m.at, m.size);
      return;
    }
    mappings_.push_back(m);
    total_ += m.size;
  }

 private:
  std::mutex mutex_;
  std::vector<Mapping> mappings_;
  std::size_t total_ = 0;
};

Kept& kept() {
  static Kept store;
  return store;
}

std::size_t rounded_up(std::size_t size, std::size_t to) { return (size + to - 1) / to * to; }

}  // namespace

ResultBlock::ResultBlock(const Shape& shape, std::size_t columns) : shape_(shape) {
  std::size_t bytes = sizeof(double);
  for (py::ssize_t side : shape) bytes *= static_cast<std::size_t>(side);
  stride_ = rounded_up(bytes, 4096) + stagger;
  const std::size_t size = stride_ * columns;
  if (size < 2 * huge_page) return;
  const std::size_t mapped = size + huge_page;  // so that a boundary of huge pages lies inside; the rest costs nothing
  Mapping m = kept().take(mapped);
  if (m.at == nullptr) {
    m = {mmap(nullptr, mapped, PROT_READ | PROT_WRITE, MAP_PRIVATE | MAP_ANONYMOUS, -1, 0), mapped};
    if (m.at == MAP_FAILED) throw std::bad_alloc();
  }
  owner_ = py::capsule(new Mapping(m), [](void* held) {
    const auto* gone = static_cast<Mapping*>(held);
    kept().give_back(*gone);
    delete gone;
  });
  base_ = reinterpret_cast<char*>(rounded_up(reinterpret_cast<std::uintptr_t>(m.at), huge_page));
  madvise(base_, size, MADV_HUGEPAGE);  // only advice: without huge pages the block is slower, not wrong
}

#else

ResultBlock::ResultBlock(const Shape& shape, std::size_t) : shape_(shape) {}

#endif

}  // namespace bindings
