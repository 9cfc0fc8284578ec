#pragma once
// Steps bodies through their surroundings: V dH/dt = sum of g (Theta_j - Theta_i) + A (h (Tf - T) + e s (Tf^4 - T^4)).
// Linearly implicit in time (rodas.hpp), each lane with its own step and its own error control; a step never crosses a
// corner of the surroundings' history. With y = dTheta the matrix of a step is symmetric and positive, so it is solved
// by Cholesky without pivots. Heat taken up is a further unknown of the same method: what comes in is what is stored.
// A template over double and packets: nothing in it is shared between the builds. Where a single body (double) asks the
// same of every point, `Wide` takes several points at once.
#include <bit>
#include <cmath>
#include <cstdint>
#include <type_traits>

#include "decalesce/ground/physical_constants.hpp"
#include "kernel_api.hpp"
#include "lanes.hpp"
#include "rodas.hpp"

namespace decalesce::conduction {

namespace {

// Step control after Hairer and Wanner: the estimate is of order three, hence the fourth root.
constexpr double safety = 0.9;
constexpr double least_factor = 0.2;
constexpr double most_factor = 6.0;
/// The first step lets the fastest point move by this many tolerances.
constexpr double first_move = 2.0;
/// A slope that is off by d a step puts a cubic off by at most 4/27 d inside it.
constexpr double slope_to_value = 4.0 / 27.0;
/// Between steps the whole tolerance may be used, at their ends half of it (problem.cpp).
constexpr double share_between_steps = 0.5;
/// A step shorter than this share of the time so far is a corner to be jumped over, s.
constexpr double shortest_s = 1e-9;

template <class Real, class Wide = Real>
class Integrator {
  using L = Lanes<Real>;
  static constexpr int N = L::count;
  static_assert(N == 1 || std::is_same_v<Real, Wide>);

 public:
  explicit Integrator(Problem& problem) : p_(problem), n_(problem.points) {
    double* next = p_.work;
    const auto take = [&](int numbers) {
      double* here = next;
      next += static_cast<std::ptrdiff_t>(numbers) * N;
      return here;
    };
    for (double*& u : u_) u = take(n_);
    y_ = take(n_);
    theta_ = take(n_);
    kelvin_ = take(n_);
    rhs_ = take(n_);
    new_ = take(n_);
    c2_ = take(n_);
    c3_ = take(n_);
    inverse_ = take(n_);
    per_slope_ = take(n_);
    rate_ = take(n_);
    face_slope_ = take(p_.faces);
    matrix_ = take(n_ * (p_.band + 1));
    alignas(64) double low[N], per_width[N], last[N], film[N], radiation[N];
    for (int l = 0; l < N; ++l) {
      const Lane& lane = p_.lanes[l];
      bins_[l] = lane.bins;
      low[l] = lane.low;
      per_width[l] = 1.0 / lane.width;
      last[l] = lane.last_bin + 0.25;
      film[l] = lane.film;
      radiation[l] = lane.emissivity * stefan_boltzmann;
      tolerance_[l] = lane.tolerance;
      time_[l] = lane.start;
      step_[l] = 0.0;
      knot_[l] = 0;
      done_[l] = !(lane.end > lane.start);
    }
    low_ = L::load(low);
    per_width_ = L::load(per_width);
    last_ = L::load(last);
    film_ = L::load(film);
    radiation_ = L::load(radiation);
  }

  void run() {
    bool fresh = true;
    while (!all_done()) {
      for (int l = 0; l < N; ++l) place(l);
      look_up_state();
      if (fresh) first_steps();
      fresh = false;
      for (int l = 0; l < N; ++l) limit(l);
      factor();
      stages();
      judge();
    }
  }

 private:
  Problem& p_;
  const int n_;
  double* u_[stage_count];
  double *y_, *theta_, *kelvin_, *rhs_, *new_, *c2_, *c3_, *inverse_, *per_slope_, *rate_, *face_slope_, *matrix_;
  const double* bins_[N];
  Real low_, per_width_, last_, film_, radiation_;
  double tolerance_[N];
  alignas(64) double time_[N], step_[N], wanted_[N], furnace_[N], slope_[N], until_[N];
  std::size_t knot_[N];
  bool done_[N], at_end_[N];
  Real heat_stage_[stage_count];

  bool all_done() const {
    for (int l = 0; l < N; ++l)
      if (!done_[l]) return false;
    return true;
  }
  static Real get(const double* a, int i) { return L::load(a + static_cast<std::ptrdiff_t>(i) * N); }
  static void put(double* a, int i, const Real& v) { L::store(a + static_cast<std::ptrdiff_t>(i) * N, v); }
  /// As `get` and `put`, for as many points as T holds.
  template <class T>
  static T read(const double* a, int i) {
    return Lanes<T>::load(a + static_cast<std::ptrdiff_t>(i) * N);
  }
  template <class T>
  static void write(double* a, int i, const T& v) {
    Lanes<T>::store(a + static_cast<std::ptrdiff_t>(i) * N, v);
  }
  /// Calls `work(i, kind)` along points `first` to `last`; `kind` is of the type that holds the points from i on.
  template <class Work>
  static void each_point(int first, int last, Work&& work) {
    int i = first;
    if constexpr (!std::is_same_v<Real, Wide>)
      for (; i + Lanes<Wide>::count <= last; i += Lanes<Wide>::count) work(i, Wide(0.0));
    for (; i < last; ++i) work(i, Real(0.0));
  }
  /// The largest size of what `miss(i, kind)` gives along the points, a lane.
  template <class Miss>
  Real largest(Miss&& miss) const {
    Real worst(0.0);
    Wide worst_wide(0.0);
    each_point(0, n_, [&](int i, auto kind) {
      using T = decltype(kind);
      const T m = miss(i, kind);
      if constexpr (std::is_same_v<T, Real>)
        worst = larger(worst, larger(m, -m));
      else
        worst_wide = larger(worst_wide, larger(m, -m));
    });
    if constexpr (!std::is_same_v<Real, Wide>)
      for (int k = 0; k < Lanes<Wide>::count; ++k) worst = larger(worst, Lanes<Wide>::lane(worst_wide, k));
    return worst;
  }

  /// Temperature of the surroundings at the lane's time, its slope, and how long it stays straight.
  void place(int l) {
    const Lane& lane = p_.lanes[l];
    std::size_t& k = knot_[l];
    const double t = time_[l];
    while (k < lane.knots && lane.times[k] <= t + shortest_s) ++k;  // knot k lies ahead
    if (k == 0 || k == lane.knots) {
      furnace_[l] = lane.temperatures[k == 0 ? 0 : lane.knots - 1];
      slope_[l] = 0.0;
    } else {
      slope_[l] = (lane.temperatures[k] - lane.temperatures[k - 1]) / (lane.times[k] - lane.times[k - 1]);
      furnace_[l] = lane.temperatures[k - 1] + slope_[l] * (t - lane.times[k - 1]);
    }
    until_[l] = k < lane.knots && lane.times[k] < lane.end ? lane.times[k] : lane.end;
  }

  /// Shortens the step to the next corner; two steps share what is left when it is little more than one.
  void limit(int l) {
    if (done_[l]) {
      wanted_[l] = step_[l] = 1.0;
      return;
    }
    const double left = until_[l] - time_[l];
    wanted_[l] = step_[l];
    at_end_[l] = step_[l] >= left;
    if (at_end_[l])
      step_[l] = left;
    else if (2.0 * step_[l] > left)
      step_[l] = 0.5 * left;
  }

  /// The cubics of the bins that enthalpies fall in, and where in the bin.
  template <class T>
  struct Found {
    const double* bin[Lanes<T>::count];
    T s;
  };
  template <class T>
  Found<T> find(const T& enthalpy) const {
    Found<T> f;
    constexpr double shifter = 6755399441055744.0;  // 1.5 * 2^52: its low bits then hold the integer
    const T x = (enthalpy - T(low_)) * T(per_width_) + 1.0;
    // a quarter past the last whole number, so that rounding half a bin down never leaves the ends
    const T inside = smaller(larger(x, T(0.25)), T(last_));
    const T shifted = inside - 0.5 + shifter;
    f.s = x - (shifted - shifter);
    std::int64_t number[Lanes<T>::count];
    Lanes<T>::bits(number, shifted);
    constexpr auto base = std::bit_cast<std::int64_t>(shifter);
    for (int l = 0; l < Lanes<T>::count; ++l) f.bin[l] = bins_[N == 1 ? 0 : l] + 8 * (number[l] - base);
    return f;
  }
  template <class T>
  static void coefficients(const Found<T>& f, int first, T (&c)[4]) {
    const double* from[Lanes<T>::count];
    for (int l = 0; l < Lanes<T>::count; ++l) from[l] = f.bin[l] + first;
    Lanes<T>::four(c, from);
  }
  template <class T>
  static T cubic(const Found<T>& f, int first) {
    T c[4];
    coefficients(f, first, c);
    return c[0] + f.s * (c[1] + f.s * (c[2] + f.s * c[3]));
  }
  /// The cubic and its slope a bin.
  template <class T>
  static T cubic(const Found<T>& f, int first, T& slope) {
    T c[4];
    coefficients(f, first, c);
    slope = c[1] + f.s * (2.0 * c[2] + f.s * (3.0 * c[3]));
    return c[0] + f.s * (c[1] + f.s * (c[2] + f.s * c[3]));
  }

  static Real fourth_power(const Real& celsius) {
    const Real kelvin = celsius + zero_celsius_K;
    const Real square = kelvin * kelvin;
    return square * square;
  }
  static Real third_power(const Real& celsius) {
    const Real kelvin = celsius + zero_celsius_K;
    return kelvin * kelvin * kelvin;
  }

  /// At the start of a step: Theta, the slopes of Theta and T against enthalpy, and what faces give less as they warm.
  void look_up_state() {
    each_point(0, n_, [&](int i, auto kind) {
      using T = decltype(kind);
      const Found<T> f = find(read<T>(p_.enthalpy, i));
      T slope;
      write(theta_, i, cubic(f, 4, slope));
      write(per_slope_, i, 1.0 / (slope * T(per_width_)));
      cubic(f, 0, slope);
      write(kelvin_, i, slope * T(per_width_));
    });
    for (int k = 0; k < p_.faces; ++k) {
      const int i = p_.face_point[k];
      const Real t = cubic(find(get(p_.enthalpy, i)), 0);
      const Real per_kelvin = film_ + 4.0 * radiation_ * third_power(t);
      put(face_slope_, k, get(p_.face_area, k) * per_kelvin * get(kelvin_, i));
    }
  }

  /// Adds what the links carry to `rhs_`, from `theta_`.
  void conduct() {
    if (p_.chain) {
      const auto flow = [&](int i, auto kind) {  // from point i + 1 to point i
        using T = decltype(kind);
        return read<T>(p_.conductance, i) * (read<T>(theta_, i + 1) - read<T>(theta_, i));
      };
      put(rhs_, 0, n_ > 1 ? flow(0, Real(0.0)) : Real(0.0));
      each_point(1, n_ - 1, [&](int i, auto kind) { write(rhs_, i, flow(i, kind) - flow(i - 1, kind)); });
      if (n_ > 1) put(rhs_, n_ - 1, -flow(n_ - 2, Real(0.0)));
      return;
    }
    for (int i = 0; i < n_; ++i) put(rhs_, i, Real(0.0));
    for (int k = 0; k < p_.links; ++k) {
      const int a = p_.from[k];
      const int b = p_.to[k];
      const Real flow = get(p_.conductance, k) * (get(theta_, b) - get(theta_, a));
      put(rhs_, a, get(rhs_, a) + flow);
      put(rhs_, b, get(rhs_, b) - flow);
    }
  }

  /// Adds what the surroundings give to `rhs_`; returns the sum, W.
  Real receive(const double* enthalpy, const Real& furnace) {
    const Real furnace_4 = fourth_power(furnace);
    Real sum(0.0);
    for (int k = 0; k < p_.faces; ++k) {
      const int i = p_.face_point[k];
      const Real t = cubic(find(get(enthalpy, i)), 0);
      const Real flow = get(p_.face_area, k) * (film_ * (furnace - t) + radiation_ * (furnace_4 - fourth_power(t)));
      put(rhs_, i, get(rhs_, i) + flow);
      sum = sum + flow;
    }
    return sum;
  }

  /// The first step, from how fast the fastest point moves.
  void first_steps() {
    conduct();
    receive(p_.enthalpy, L::load(furnace_));
    Real fastest(0.0);
    for (int i = 0; i < n_; ++i) {
      const Real rate = get(rhs_, i) / get(p_.volume, i) * get(kelvin_, i);
      fastest = larger(fastest, larger(rate, -rate));
    }
    for (int l = 0; l < N; ++l) {
      const double rate = L::lane(fastest, l);
      const double span = p_.lanes[l].end - p_.lanes[l].start;
      const double first = rate > 0.0 ? first_move * tolerance_[l] / rate : span;
      step_[l] = first < span ? first : span;
    }
  }

  /// The matrix V/(h gamma Theta') + links + faces, and its factors L D L^T in place; `inverse_` holds 1/D.
  void factor() {
    const Real scale = 1.0 / (rodas::gamma * L::load(step_));
    const int width = p_.band + 1;
    if (p_.chain) {
      for (int i = 0; i < n_; ++i) put(matrix_, 2 * i, scale * get(p_.volume, i) * get(per_slope_, i));
      for (int i = 0; i + 1 < n_; ++i) {
        const Real g = get(p_.conductance, i);
        put(matrix_, 2 * i, get(matrix_, 2 * i) + g);
        put(matrix_, 2 * i + 2, get(matrix_, 2 * i + 2) + g);
      }
      face_slopes(2);
      // from both ends to the middle: two eliminations that do not wait for one another
      const int middle = n_ / 2;
      const int below = n_ - 1 - middle;
      Real upward = get(matrix_, 0);
      Real downward = get(matrix_, 2 * (n_ - 1));
      for (int j = 0; j < middle; ++j) {
        upward = eliminate(j, j + 1, j, upward);
        if (j < below) downward = eliminate(n_ - 1 - j, n_ - 2 - j, n_ - 2 - j, downward);
      }
      const Real both = middle > 0 ? upward + downward - get(matrix_, 2 * middle) : upward;
      put(inverse_, middle, 1.0 / (below > 0 ? both : upward));
      return;
    }
    for (int i = 0; i < n_ * width; ++i) put(matrix_, i, Real(0.0));
    for (int i = 0; i < n_; ++i) put(matrix_, i * width, scale * get(p_.volume, i) * get(per_slope_, i));
    for (int k = 0; k < p_.links; ++k) {
      const int a = p_.from[k];
      const int b = p_.to[k];
      const Real g = get(p_.conductance, k);
      put(matrix_, a * width, get(matrix_, a * width) + g);
      put(matrix_, b * width, get(matrix_, b * width) + g);
      put(matrix_, a * width + b - a, -g);
    }
    face_slopes(width);
    for (int i = 0; i < n_; ++i) {
      const Real inverse = 1.0 / get(matrix_, i * width);
      put(inverse_, i, inverse);
      const int reach = i + p_.band < n_ ? p_.band : n_ - 1 - i;
      for (int k = 1; k <= reach; ++k) {
        const Real lower = get(matrix_, i * width + k) * inverse;
        for (int m = k; m <= reach; ++m) {
          const int at = (i + k) * width + m - k;
          put(matrix_, at, get(matrix_, at) - lower * get(matrix_, i * width + m));
        }
      }
      for (int k = 1; k <= reach; ++k) put(matrix_, i * width + k, get(matrix_, i * width + k) * inverse);
    }
  }

  /// Removes a point of a chain from its neighbour, over the link between them; the pivot of the neighbour.
  Real eliminate(int point, int neighbour, int link, const Real& pivot) {
    const Real g = get(p_.conductance, link);
    const Real inverse = 1.0 / pivot;
    const Real factor = g * inverse;  // minus the entry of L: it only ever adds
    put(inverse_, point, inverse);
    put(matrix_, 2 * point + 1, factor);
    return get(matrix_, 2 * neighbour) - g * factor;
  }

  /// What a face gives less as its point warms.
  void face_slopes(int width) {
    for (int k = 0; k < p_.faces; ++k) {
      const int i = p_.face_point[k];
      put(matrix_, i * width, get(matrix_, i * width) + get(face_slope_, k) * get(per_slope_, i));
    }
  }

  /// Solves in place and turns the answer from Theta back into enthalpy.
  void solve(double* x) {
    const int width = p_.band + 1;
    if (p_.chain) {
      const int middle = n_ / 2;
      const int below = n_ - 1 - middle;
      Real upward = get(x, 0);
      Real downward = get(x, n_ - 1);
      for (int j = 0; j < middle; ++j) {
        put(x, j, upward);
        upward = get(x, j + 1) + get(matrix_, 2 * j + 1) * upward;
        if (j >= below) continue;
        const int i = n_ - 1 - j;
        put(x, i, downward);
        downward = get(x, i - 1) + get(matrix_, 2 * i + 1) * downward;
      }
      const Real both = below > 0 ? upward + downward - get(x, middle) : upward;
      upward = downward = both * get(inverse_, middle);
      put(x, middle, upward * get(per_slope_, middle));
      for (int j = middle; j-- > 0;) {
        upward = get(x, j) * get(inverse_, j) + get(matrix_, 2 * j + 1) * upward;
        put(x, j, upward * get(per_slope_, j));
        const int i = n_ - 1 - j;
        if (j >= below) continue;
        downward = get(x, i) * get(inverse_, i) + get(matrix_, 2 * i + 1) * downward;
        put(x, i, downward * get(per_slope_, i));
      }
      return;
    }
    for (int i = 0; i < n_; ++i) {
      const int reach = i + p_.band < n_ ? p_.band : n_ - 1 - i;
      const Real here = get(x, i);
      for (int k = 1; k <= reach; ++k) put(x, i + k, get(x, i + k) - get(matrix_, i * width + k) * here);
    }
    for (int i = n_; i-- > 0;) {
      const int reach = i + p_.band < n_ ? p_.band : n_ - 1 - i;
      Real here = get(x, i) * get(inverse_, i);
      for (int k = 1; k <= reach; ++k) here = here - get(matrix_, i * width + k) * get(x, i + k);
      put(x, i, here);
    }
    for (int i = 0; i < n_; ++i) put(x, i, get(x, i) * get(per_slope_, i));
  }

  void stages() {
    const Real h = L::load(step_);
    const Real per_h = 1.0 / h;
    const Real furnace = L::load(furnace_);
    const Real slope = L::load(slope_);
    // what the furnace's own change adds to each face at the start of the step, per unit of area
    const Real face_change = (film_ + 4.0 * radiation_ * third_power(furnace)) * slope;
    for (int stage = 0; stage < stage_count; ++stage) {
      const double* y = p_.enthalpy;
      if (stage > 0) {
        advance_to(stage);
        y = y_;
        each_point(0, n_, [&](int i, auto kind) {
          using T = decltype(kind);
          write(theta_, i, cubic(find(read<T>(y_, i)), 4));
        });
      }
      conduct();
      Real heat = receive(y, furnace + rodas::alpha[stage] * h * slope);
      if (stage == 0)
        for (int i = 0; i < n_; ++i) put(rate_, i, get(rhs_, i));
      if (rodas::gamma_time[stage] != 0.0) {
        const Real change = rodas::gamma_time[stage] * h * face_change;
        for (int k = 0; k < p_.faces; ++k) {
          const int i = p_.face_point[k];
          const Real flow = get(p_.face_area, k) * change;
          put(rhs_, i, get(rhs_, i) + flow);
          heat = heat + flow;
        }
      }
      add_history(stage, per_h);
      double* u = u_[stage];
      for (int i = 0; i < n_; ++i) put(u, i, get(rhs_, i));
      solve(u);
      for (int j = 0; j < stage; ++j) heat = heat + per_h * (rodas::c[stage][j] * heat_stage_[j]);
      for (int k = 0; k < p_.faces; ++k) {
        const int i = p_.face_point[k];
        heat = heat - get(face_slope_, k) * get(u, i);
      }
      heat_stage_[stage] = rodas::gamma * h * heat;
    }
  }

  /// The interpolant's coefficients; what it is off by inside the step, in kelvin. A cubic cannot follow a fast decay
  /// that the method itself steps over: then its slope at the start is not that of the equation. The difference, freed
  /// from what decays within the step, is what it is off by.
  Real interpolate() {
    const Real h = L::load(step_);
    const Real per_gamma_h = 1.0 / (rodas::gamma * h);
    each_point(0, n_, [&](int i, auto kind) {
      using T = decltype(kind);
      T c2(0.0);
      T c3(0.0);
      for (int j = 0; j < stage_count - 1; ++j) {
        const T u = read<T>(u_[j], i);
        c2 = c2 + rodas::dense[0][j] * u;
        c3 = c3 + rodas::dense[1][j] * u;
      }
      write(c2_, i, c2);
      write(c3_, i, c3);
      const T start_slope = read<T>(new_, i) - read<T>(p_.enthalpy, i) + c2;
      write(rhs_, i, (read<T>(rate_, i) * T(h) - read<T>(p_.volume, i) * start_slope) * T(per_gamma_h));
    });
    solve(rhs_);
    const Real worst =
        largest([&](int i, auto kind) { return read<decltype(kind)>(rhs_, i) * read<decltype(kind)>(kelvin_, i); });
    return worst * slope_to_value;
  }

  /// Takes the step where its estimate allows, tells the observer, and sets the next step.
  void judge() {
    const double* last = u_[stage_count - 1];
    each_point(0, n_, [&](int i, auto kind) {
      using T = decltype(kind);
      write(new_, i, read<T>(y_, i) + read<T>(last, i));
    });
    Real worst =
        largest([&](int i, auto kind) { return read<decltype(kind)>(last, i) * read<decltype(kind)>(kelvin_, i); });
    worst = larger(worst, interpolate() * share_between_steps);
    Real heat_new = L::load(p_.heat);
    for (int j = 0; j < stage_count; ++j)
      heat_new = heat_new + (j < stage_count - 2 ? rodas::a[stage_count - 2][j] : 1.0) * heat_stage_[j];
    bool taken[N];
    bool any_taken = false;
    for (int l = 0; l < N; ++l) {
      const double ratio = L::lane(worst, l) / tolerance_[l];
      // a NaN is an estimate that failed: the comparison is made so that it counts as too large
      const bool good = ratio <= 1.0;
      taken[l] = good && !done_[l];
      any_taken = any_taken || taken[l];
      double factor = safety / std::sqrt(std::sqrt(ratio));
      factor = factor > least_factor ? (factor < most_factor ? factor : most_factor) : least_factor;
      wanted_[l] = good ? (factor * step_[l] > wanted_[l] ? factor * step_[l] : wanted_[l]) : factor * step_[l];
      if (!done_[l]) ++(good ? p_.steps : p_.rejected);
      if (!good && wanted_[l] < shortest_s) {  // an input no step can follow: give up, visibly
        done_[l] = true;
        p_.heat[l] = NAN;
      }
    }
    if (any_taken) {
      if (p_.accepted != nullptr) tell(heat_new, taken);
      const auto on = L::mask(taken);
      for (int i = 0; i < n_; ++i) put(p_.enthalpy, i, select(on, get(new_, i), get(p_.enthalpy, i)));
      L::store(p_.heat, select(on, heat_new, L::load(p_.heat)));
    }
    for (int l = 0; l < N; ++l) {
      if (done_[l]) continue;
      if (taken[l]) {
        time_[l] = at_end_[l] ? until_[l] : time_[l] + step_[l];
        done_[l] = done_[l] || time_[l] + shortest_s >= p_.lanes[l].end;
      }
      step_[l] = wanted_[l];
    }
  }

  void tell(const Real& heat_new, const bool (&taken)[N]) {
    alignas(64) double heat[N];
    L::store(heat, heat_new);
    for (int l = 0; l < N; ++l) {
      if (!taken[l]) continue;
      const double to = at_end_[l] ? until_[l] : time_[l] + step_[l];
      const Step step{l,       N,       time_[l],   to,      p_.enthalpy + l, new_ + l,
                      c2_ + l, c3_ + l, p_.heat[l], heat[l], furnace_[l],     furnace_[l] + slope_[l] * step_[l]};
      if (p_.accepted(p_.observer, step)) done_[l] = true;
    }
  }

  void advance_to(int stage) {
    each_point(0, n_, [&](int i, auto kind) {
      using T = decltype(kind);
      if (stage == stage_count - 1) {
        write(y_, i, read<T>(y_, i) + read<T>(u_[stage - 1], i));
        return;
      }
      T y = read<T>(p_.enthalpy, i);
      for (int j = 0; j < stage; ++j) y = y + rodas::a[stage][j] * read<T>(u_[j], i);
      write(y_, i, y);
    });
  }
  void add_history(int stage, const Real& per_h) {
    if (stage == 0) return;
    each_point(0, n_, [&](int i, auto kind) {
      using T = decltype(kind);
      T sum(0.0);
      for (int j = 0; j < stage; ++j) sum = sum + rodas::c[stage][j] * read<T>(u_[j], i);
      write(rhs_, i, read<T>(rhs_, i) + read<T>(p_.volume, i) * T(per_h) * sum);
    });
  }
};

}  // namespace
}  // namespace decalesce::conduction
