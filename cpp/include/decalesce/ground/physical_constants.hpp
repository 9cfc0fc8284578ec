#pragma once
// Constants of nature, each once. Data only, so that a file built for a newer processor may include it.

namespace decalesce {

inline constexpr double zero_celsius_K = 273.15;            // SI Brochure, definition of the degree Celsius
inline constexpr double gas_constant = 8.31446261815324;    // J/(mol K), SI Brochure: exact product of k and N_A
inline constexpr double stefan_boltzmann = 5.670374419e-8;  // W/(m2 K4) [CODATA2018]

}  // namespace decalesce
