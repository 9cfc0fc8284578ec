#include <cstdio>
#include <decalesce/decalesce.hpp>

int main() {
  decalesce::WeightPercent<double> steel;
  steel.C = 0.40;
  steel.Mn = 0.70;
  const double ms = decalesce::published::evaluate<decalesce::published::MsAndrews1965Linear>(steel);
  std::printf("Ms %.1f degC\n", ms);
  return ms > 348.0 && ms < 349.0 ? 0 : 1;  // 539 - 423 * 0.40 - 30.4 * 0.70 = 348.5 [Andrews1965]
}
