#pragma once
// Amounts in weight per cent, one member an element, so that a formula reads like the paper: 539.0 - 423.0 * w.C.
#include "element.hpp"
#include "scalar.hpp"
#include "written_out.hpp"

namespace decalesce {

template <class Real>
struct WeightPercent {
  Real C{0.0}, Mn{0.0}, Si{0.0}, Cr{0.0}, Ni{0.0}, Mo{0.0}, V{0.0}, W{0.0}, Cu{0.0}, Co{0.0}, Al{0.0}, Nb{0.0}, Ti{0.0},
      N{0.0}, B{0.0}, P{0.0}, S{0.0}, As{0.0}, Sn{0.0};

  constexpr Real& operator[](Element e) { return const_cast<Real&>(at(*this, e)); }
  constexpr const Real& operator[](Element e) const { return at(*this, e); }

  friend bool operator==(const WeightPercent&, const WeightPercent&) = default;

 private:
  static constexpr const Real& at(const WeightPercent& w, Element e) {
    switch (e) {
      case Element::C: return w.C;
      case Element::Mn: return w.Mn;
      case Element::Si: return w.Si;
      case Element::Cr: return w.Cr;
      case Element::Ni: return w.Ni;
      case Element::Mo: return w.Mo;
      case Element::V: return w.V;
      case Element::W: return w.W;
      case Element::Cu: return w.Cu;
      case Element::Co: return w.Co;
      case Element::Al: return w.Al;
      case Element::Nb: return w.Nb;
      case Element::Ti: return w.Ti;
      case Element::N: return w.N;
      case Element::B: return w.B;
      case Element::P: return w.P;
      case Element::S: return w.S;
      case Element::As: return w.As;
      case Element::Sn: return w.Sn;
    }
    return w.C;
  }
};

/// Calls `visit(element)` for each of the nineteen elements, in order; written out, so that no loop is left in a
/// kernel.
template <class Visit>
constexpr void for_each_element(Visit&& visit) {
  written_out<element_count>([&]<std::size_t K>() { visit(static_cast<Element>(K)); });
}

/// What some formulas need beyond the composition. NaN means not given: the answer is then NaN and flagged.
template <class Real>
struct Given {
  Real thickness_mm{NAN};  // plate thickness
  Real grain_um{NAN};      // prior austenite grain size
  Real Ms{NAN};            // martensite start, degC
  Real Bs{NAN};            // bainite start, degC
  Real rate_per_K{NAN};    // Koistinen-Marburger rate
};

}  // namespace decalesce
