// See the header for the geometry.
#include "stats/trays/contrast_curve.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace plumule::stats {
namespace {

constexpr double right_angle = std::numbers::pi / 2;

double squared_sine(double phi) { return std::sin(phi) * std::sin(phi); }

double angle_of(double p) { return std::asin(std::sqrt(std::clamp(p, 0.0, 1.0))); }

}  // namespace

ContrastCurve::ContrastCurve(Contrast contrast, double value) : contrast_(contrast), value_(value) {
  if (contrast == Contrast::difference) {
    const double corner = angle_of(std::fabs(value));
    first_ = corner;
    last_ = std::numbers::pi - corner;
    always_ = value < 0 ? corner : 0;
  } else {
    root_ = std::sqrt(value);
    last_ = right_angle;
  }
}

ContrastCurve::Point ContrastCurve::at(double s) const {
  if (contrast_ == Contrast::difference) {
    const double sine = std::max(std::sin(s), 1e-300);
    const double apart = std::asin(std::clamp(value_ / sine, -1.0, 1.0));
    const double under = std::max(sine * sine - value_ * value_, 1e-300);
    const double slope = value_ * std::cos(s) / (sine * std::sqrt(under));
    return {0.5 * (s + apart), 0.5 * (s - apart), 0.5 * (1 + (value_ == 0 ? 0 : slope))};
  }
  const double sine = std::sin(s), cosine = std::cos(s);
  if (contrast_ == Contrast::ratio) {
    if (root_ <= 1) return {std::asin(root_ * sine), s, 1};
    const double other = sine / root_;
    return {s, std::asin(other), cosine / (root_ * std::sqrt(1 - other * other))};
  }
  if (root_ <= 1) return {std::atan2(root_ * sine, cosine), s, 1};
  return {s, std::atan2(sine, root_ * cosine), root_ / (value_ * cosine * cosine + sine * sine)};
}

double ContrastCurve::at_phi1(double phi1) const {
  double s = phi1;
  if (contrast_ == Contrast::difference)
    s = phi1 + angle_of(squared_sine(phi1) - value_);
  else if (root_ <= 1)
    s = contrast_ == Contrast::ratio ? angle_of(squared_sine(phi1) / value_)
                                     : std::atan2(std::sin(phi1), root_ * std::cos(phi1));
  return std::clamp(s, first_, last_);
}

double ContrastCurve::at_phi2(double phi2) const {
  double s = phi2;
  if (contrast_ == Contrast::difference)
    s = phi2 + angle_of(squared_sine(phi2) + value_);
  else if (root_ > 1)
    s = contrast_ == Contrast::ratio ? angle_of(squared_sine(phi2) * value_)
                                     : std::atan2(root_ * std::sin(phi2), std::cos(phi2));
  return std::clamp(s, first_, last_);
}

}  // namespace plumule::stats
