#pragma once
// What a batch kernel is given and returns: plain pointers only, so that a file built for a newer processor shares no
// inline code with the rest of the program.
#include <cstddef>
#include <cstdint>

namespace decalesce::kernels {

inline constexpr int columns_composition = 19;
inline constexpr int columns_given = 5;

/// One input column; a null pointer stands for `same` in every row.
struct Column {
  const double* data;
  double same;
};

/// How an element became known in each row (the codes of `Stated`); a null pointer repeats `same`.
struct StatedColumn {
  const std::uint8_t* data;
  std::uint8_t same;
};

struct Inputs {
  Column composition[columns_composition];
  Column given[columns_given];
  std::size_t rows;
};

/// What the joined critical temperatures want beyond the amounts.
struct Doubt {
  Column half_width[columns_composition];
  StatedColumn stated[columns_composition];
};

/// Six quantities (Ac1, Ac3, Acm, Ms, Mf, Bs), a column each; null pointers for parts that nobody asked for.
struct CriticalColumns {
  double* value[6];
  double* half_width[6];  // of the 90 % band, which is symmetric
  std::uint64_t* flags[6];
  double* formula_part[6];
  double* composition_part[6];
  std::uint8_t* family;
};

using Critical = void (*)(const Inputs&, const Doubt&, const CriticalColumns&);
using EvaluateOne = void (*)(const Inputs&, double* out);
using EvaluateMany = void (*)(const Inputs&, double* const* out);

/// One table a build of the kernels: portable, and for processors with AVX2.
struct Table {
  const EvaluateOne* evaluate_one;  // by formula number of the catalogue
  std::size_t formulas;
  EvaluateMany evaluate_ms;  // all Ms formulas, a column each
  Critical critical;         // joined critical temperatures
};

const Table& portable();
/// Null where this program or this processor has no AVX2.
const Table* avx2();
/// The fastest table this processor can run.
const Table& fastest();

}  // namespace decalesce::kernels
