#pragma once
// Batch loops over the published formulas, one text for every packet width.
#include "blocks.hpp"
#include "critical_kernel.hpp"
#include "decalesce/published/catalogue.hpp"

namespace decalesce::kernels {

template <class Real, class Formula>
void evaluate_one(const Inputs& in, double* out) {
  for_each_block<Real>(in, [&](const Block<Real>& block, std::size_t first, std::size_t count) {
    for (std::size_t i = 0; i < count; i += Real::lanes)
      put(published::evaluate<Formula>(block.amounts(i), block.needs(i)), out + first, i, count);
  });
}

template <class Real, class List>
struct Many;

template <class Real, class... Formulas>
struct Many<Real, published::FormulaList<Formulas...>> {
  static constexpr EvaluateOne one[] = {&evaluate_one<Real, Formulas>...};

  static void evaluate(const Inputs& in, double* const* out) {
    for_each_block<Real>(in, [&](const Block<Real>& block, std::size_t first, std::size_t count) {
      for (std::size_t i = 0; i < count; i += Real::lanes) {
        const WeightPercent<Real> w = block.amounts(i);
        const Given<Real> given = block.needs(i);
        std::size_t column = 0;
        (put(published::evaluate<Formulas>(w, given), out[column++] + first, i, count), ...);
      }
    });
  }
};

template <class Real>
constexpr Table table_for() {
  return {Many<Real, published::AllFormulas>::one, published::AllFormulas::size,
          &Many<Real, published::MsFormulas>::evaluate, &critical_temperatures<Real>};
}

}  // namespace decalesce::kernels
