// The curves of equal contrast: every point lies on its curve, and the slope is the slope.
#include "stats/trays/contrast_curve.hpp"

#include <cmath>

#include "support/close.hpp"

using namespace plumule::stats;

namespace {

double contrast(Contrast kind, double phi1, double phi2) {
  const double p1 = std::sin(phi1) * std::sin(phi1), p2 = std::sin(phi2) * std::sin(phi2);
  if (kind == Contrast::difference) return p1 - p2;
  if (kind == Contrast::ratio) return p1 / p2;
  return p1 / (1 - p1) * (1 - p2) / p2;
}

void check_curve(Contrast kind, double value) {
  CAPTURE(value);
  const ContrastCurve curve(kind, value);
  for (int i = 1; i < 20; ++i) {
    const double s = curve.first() + (curve.last() - curve.first()) * i / 20;
    const auto point = curve.at(s);
    CHECK_WITHIN(contrast(kind, point.phi1, point.phi2), value,
                 1e-12 * std::max(1.0, std::fabs(value)));
    const double h = 1e-6;
    const double slope = (curve.at(s + h).phi2 - curve.at(s - h).phi2) / (2 * h);
    CHECK_WITHIN(point.slope2, slope, 1e-8 * std::max(1.0, std::fabs(slope)));
    CHECK_WITHIN(curve.at_phi1(point.phi1), s, 1e-9);
    CHECK_WITHIN(curve.at_phi2(point.phi2), s, 1e-9);
  }
}

}  // namespace

TEST_CASE("points of a difference lie on its curve, up to the edges of the plane") {
  for (const double d : {-0.9, -0.1, 0.0, 0.05, 0.6}) check_curve(Contrast::difference, d);
  const ContrastCurve curve(Contrast::difference, 0.25);
  // it enters where p2 is 0 and p1 a quarter, and leaves where p1 is 1
  CHECK_WITHIN(curve.at(curve.first()).phi2, 0, 1e-7);
  CHECK_CLOSE(curve.at(curve.first()).phi1, std::asin(0.5), 1e-7);
  CHECK_CLOSE(curve.at(curve.last()).phi1, std::acos(0.0), 1e-7);
  CHECK(curve.always_above_below() == 0);
  CHECK_CLOSE(ContrastCurve(Contrast::difference, -0.25).always_above_below(), std::asin(0.5),
              1e-12);
}

TEST_CASE("points of a ratio and of an odds ratio lie on their curves") {
  for (const double c : {0.2, 1.0, 1.7, 8.0}) {
    check_curve(Contrast::ratio, c);
    check_curve(Contrast::odds_ratio, c);
  }
}
