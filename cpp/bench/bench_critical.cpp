// Joined critical temperatures: the batch kernels into memory that is already there, and one steel at a time.
#include <algorithm>
#include <array>
#include <chrono>
#include <cmath>
#include <cstdio>
#include <random>
#include <vector>

#include "decalesce/laws/critical.hpp"
#include "kernels/kernel_api.hpp"

namespace {

using namespace decalesce;

constexpr std::size_t steels = 200'000;
constexpr int repeats = 9;
// full certificates: most of each of the nine elements that are measured, wt %
constexpr std::array<double, 9> most{1.1, 1.6, 0.5, 1.6, 1.8, 0.4, 0.2, 0.25, 0.3};

template <class Work>
double best_ns(Work&& work) {
  double best = HUGE_VAL;
  for (int r = 0; r < repeats; ++r) {
    const auto start = std::chrono::steady_clock::now();
    work();
    const std::chrono::duration<double, std::nano> passed = std::chrono::steady_clock::now() - start;
    best = std::min(best, passed.count() / static_cast<double>(steels));
  }
  return best;
}

}  // namespace

int main() {
  std::mt19937 generator(1);
  std::vector<std::vector<double>> amount(most.size(), std::vector<double>(steels));
  for (std::size_t k = 0; k < most.size(); ++k) {
    std::uniform_real_distribution<double> u(0.02, most[k]);
    for (double& x : amount[k]) x = u(generator);
  }
  kernels::Inputs in{};
  in.rows = steels;
  for (std::size_t k = 0; k < element_count; ++k)
    in.composition[k] = {k < most.size() ? amount[k].data() : nullptr, 0.0};
  for (kernels::Column& given : in.given) given = {nullptr, NAN};
  kernels::Doubt doubt{};

  std::vector<std::vector<double>> number(12, std::vector<double>(steels));
  std::vector<std::vector<std::uint64_t>> flags(6, std::vector<std::uint64_t>(steels));
  kernels::CriticalColumns out{};
  for (std::size_t q = 0; q < 6; ++q) {
    out.value[q] = number[q].data();
    out.half_width[q] = number[6 + q].data();
    out.flags[q] = flags[q].data();
  }
  std::printf("portable  %6.1f ns a steel\n", best_ns([&] { kernels::portable().critical(in, doubt, out); }));
  if (const kernels::Table* wide = kernels::avx2())
    std::printf("AVX2      %6.1f ns a steel\n", best_ns([&] { wide->critical(in, doubt, out); }));

  double kept = 0.0;
  const double one = best_ns([&] {
    for (std::size_t i = 0; i < steels; ++i) {
      Composition c;
      for (std::size_t k = 0; k < most.size(); ++k) c.set(static_cast<Element>(k), amount[k][i]);
      kept += critical::temperatures(c).ac1.value;
    }
  });
  std::printf("one by one %5.1f ns a steel (%s)\n", one, std::isnan(kept) ? "some outside coverage" : "all covered");
}
