#include "decalesce/published/catalogue.hpp"

namespace decalesce::published {

namespace {

template <class Formula>
Answer answer(const WeightPercent<double>& w, const Given<double>& given) {
  static constexpr FormulaRecord r = Formula::record;
  Answer a{evaluate<Formula>(w, given), {}};
  // a remembered formula says all there is to say; of one that was seen, a remembered range is said apart
  if (r.status == Status::memory)
    a.flags |= Flag::from_memory;
  else if (r.ranges.from_memory)
    a.flags |= Flag::range_from_memory;
  if (!r.ranges.known)
    a.flags |= Flag::range_unpublished;
  else if (!r.covers(w))
    a.flags |= Flag::outside_range;
  const bool given_is_there = [&] {
    switch (r.needs) {
      case Needs::composition: return true;
      case Needs::thickness_mm: return !std::isnan(given.thickness_mm);
      case Needs::grain_um: return !std::isnan(given.grain_um);
      case Needs::Ms: return !std::isnan(given.Ms);
      case Needs::Bs: return !std::isnan(given.Bs);
      case Needs::Ms_and_rate: return !std::isnan(given.Ms) && !std::isnan(given.rate_per_K);
    }
    return true;
  }();
  if (!given_is_there)
    a.flags |= Flag::input_not_given;
  else if (std::isnan(a.value))
    a.flags |= Flag::nan_input;
  return a;
}

template <class List>
struct Answers;
template <class... Formulas>
struct Answers<FormulaList<Formulas...>> {
  using Call = Answer (*)(const WeightPercent<double>&, const Given<double>&);
  static constexpr Call call[] = {&answer<Formulas>...};
  using Value = double (*)(const WeightPercent<double>&, const Given<double>&);
  static constexpr Value value[] = {&evaluate<Formulas, double>...};
};

}  // namespace

double value(std::size_t number, const WeightPercent<double>& w, const Given<double>& given) {
  return Answers<AllFormulas>::value[number](w, given);
}

Answer evaluate(std::size_t number, const WeightPercent<double>& w, const Given<double>& given) {
  return Answers<AllFormulas>::call[number](w, given);
}

}  // namespace decalesce::published
