#pragma once
// Plate, cylinder and sphere that start at one temperature and meet surroundings at another through a film: the
// eigenfunction series. [Incropera_HeatTransfer] [Cengel_HeatTransfer] [CarslawJaeger1959]
//   theta = (T - surroundings) / (start - surroundings) = sum of C_n exp(-zeta_n^2 Fo) X(zeta_n s)
// Bi = h L / k, Fo = alpha t / L^2, s = x / L; L is half the thickness of a plate, the radius of the others.
#include <array>
#include <cstdint>
#include <string_view>
#include <vector>

namespace decalesce::conduction::closed {

enum class Body : std::uint8_t { plate, cylinder, sphere };
inline constexpr std::array<std::string_view, 3> body_names{"plate", "cylinder", "sphere"};

/// One term of the series.
struct Term {
  double root;         // zeta_n
  double coefficient;  // C_n
};

/// Term n (from 0). Roots of, in order of Body: zeta tan zeta = Bi; zeta J1 / J0 = Bi; 1 - zeta cot zeta = Bi.
/// Bi from 0 (nothing crosses) to infinity (the surface is at the temperature of the surroundings at once).
/// NaN for a Bi that is negative or NaN, or a negative n.
Term term(Body body, double biot, int n);

/// An answer of the first term alone, and whether it was asked where one term is not enough.
struct OneTerm {
  double theta;
  bool outside;
};

/// One term is enough from here on (within 0.02 at the centre). [Incropera_HeatTransfer]
inline constexpr double one_term_least_fourier = 0.2;

/// The series of one body and one Bi. It keeps the terms it has found, so use one object a thread.
class Series {
 public:
  /// Below this Fo (2000 terms) the wave from the surface takes over, which has not met the one from the other side
  /// yet: exact for plate and sphere, within Fo / 4 of the change for the cylinder.
  static constexpr double least_fourier = 1e-6;

  Series(Body body, double biot);

  Body body() const { return body_; }
  double biot() const { return biot_; }

  /// theta at `position` = x / L, 0 centre, 1 surface. Any Fo >= 0; NaN for a negative Fo or a position beyond 1.
  double theta(double fourier, double position);
  /// theta of the mean over the volume; 1 minus it is the share of the heat exchanged.
  double mean(double fourier);
  /// The first term alone.
  OneTerm one_term(double fourier, double position);

  /// Fo at which theta, or its mean, has fallen to a value between 0 and 1 (at 1: 0). NaN outside, and where Bi is 0.
  double fourier_at(double theta, double position);
  double fourier_at_mean(double mean);

  /// Term n, kept.
  const Term& at(int n);
  /// X(zeta s): cosine, J0, or sine over its argument; and its mean over the volume.
  double shape(double root, double position) const;
  double shape_mean(double root) const;

 private:
  template <class Factor>
  double sum(double fourier, const Factor& factor);
  double early_theta(double fourier, double position) const;
  double early_loss(double fourier) const;

  Body body_;
  double biot_;
  std::vector<Term> terms_;
};

}  // namespace decalesce::conduction::closed
