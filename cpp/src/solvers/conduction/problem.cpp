#include "problem.hpp"

#include <cmath>
#include <cstdint>
#include <sstream>

namespace decalesce::conduction {

namespace {

/// Share of the wanted tolerance that one step may use: errors of several steps meet, and the interpolant between steps
/// is of lower order than the steps themselves.
constexpr double share_of_a_step = 0.5;

}  // namespace

std::string trouble(const Mesh& mesh, const Surroundings& surroundings, double tolerance_K) {
  const auto wrong = [](const char* argument, double value, const char* expected) {
    std::ostringstream what;
    what << argument << " = " << value << "; expected " << expected;
    return what.str();
  };
  const double film = surroundings.film_W_m2K;
  const double emissivity = surroundings.emissivity;
  if (!(film >= 0.0 && film <= largest_film_W_m2K)) return wrong("film_W_m2K", film, "0 to 1e6 W/m2K");
  if (!(emissivity >= 0.0 && emissivity <= 1.0)) return wrong("emissivity", emissivity, "0 to 1");
  if (film + emissivity == 0.0) return "film_W_m2K and emissivity are both zero: nothing heats the body";
  if (!(tolerance_K > 0.0) || !std::isfinite(tolerance_K))
    return wrong("tolerance_K", tolerance_K, "a number above zero, K");
  if (!(mesh.total_area() > 0.0)) return "every face of the body is covered: nothing heats it";
  return {};
}

Packed::Packed(std::span<const Body> bodies, int lanes, double tolerance_K) : lanes_(lanes) {
  const Mesh& shape = *bodies.front().mesh;
  const auto width = static_cast<std::size_t>(lanes);
  const std::size_t points = shape.volume.size();
  const std::size_t links = shape.links.size();
  const std::size_t faces = shape.faces.size();
  bool chain = shape.band == 1 && links + 1 == points;
  for (std::size_t k = 0; k < links; ++k) {
    from_.push_back(shape.links[k].from);
    to_.push_back(shape.links[k].to);
    chain = chain && shape.links[k].from == static_cast<int>(k) && shape.links[k].to == static_cast<int>(k) + 1;
  }
  for (const Mesh::Face& face : shape.faces) face_point_.push_back(face.point);
  conductance_.resize(links * width);
  volume_.resize(points * width);
  face_area_.resize(faces * width);
  enthalpy_.resize(points * width);
  heat_.assign(width, 0.0);
  lane_.resize(width);
  for (std::size_t l = 0; l < width; ++l) {
    const Body& body = bodies[l < bodies.size() ? l : bodies.size() - 1];
    const Mesh& mesh = *body.mesh;
    for (std::size_t k = 0; k < links; ++k) conductance_[k * width + l] = mesh.links[k].conductance;
    for (std::size_t i = 0; i < points; ++i) volume_[i * width + l] = mesh.volume[i];
    for (std::size_t k = 0; k < faces; ++k) face_area_[k * width + l] = mesh.faces[k].area * mesh.faces[k].exposure;
    const double start = body.material->enthalpy_J_m3(body.start_C);
    for (std::size_t i = 0; i < points; ++i) enthalpy_[i * width + l] = start;
    const auto bins = body.material->bins();
    const History& history = body.surroundings->temperature;
    lane_[l] = {.bins = bins.front().temperature,
                .low = body.material->low_J_m3(),
                .width = body.material->width_J_m3(),
                .last_bin = static_cast<double>(bins.size() - 1),
                .times = history.times_s().data(),
                .temperatures = history.temperatures_C().data(),
                .knots = history.size(),
                .film = body.surroundings->film_W_m2K,
                .emissivity = body.surroundings->emissivity,
                .start = history.times_s().front(),
                .end = history.times_s().back(),
                .tolerance = share_of_a_step * tolerance_K};
  }
  const int count = static_cast<int>(points);
  const int face_count = static_cast<int>(faces);
  constexpr std::size_t line = 64 / sizeof(double);
  work_.resize(work_size(count, face_count, shape.band, lanes) + line);
  const auto past = reinterpret_cast<std::uintptr_t>(work_.data()) / sizeof(double) % line;
  problem_ = {.points = count,
              .links = static_cast<int>(links),
              .faces = face_count,
              .band = shape.band,
              .chain = chain,
              .from = from_.data(),
              .to = to_.data(),
              .conductance = conductance_.data(),
              .volume = volume_.data(),
              .face_point = face_point_.data(),
              .face_area = face_area_.data(),
              .lanes = lane_.data(),
              .enthalpy = enthalpy_.data(),
              .heat = heat_.data(),
              .work = work_.data() + (past == 0 ? 0 : line - past),
              .observer = nullptr,
              .accepted = nullptr,
              .steps = 0,
              .rejected = 0};
}

}  // namespace decalesce::conduction
