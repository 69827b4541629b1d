// The curve in the plane of two angles (phi = arcsin sqrt p) on which a contrast of two percentages
// has one value, walked by a parameter in which everything stays smooth.
#pragma once

namespace plumule::stats {

enum class Contrast { difference, ratio, odds_ratio };

// p1 - p2 = value (-1 < value < 1), p1 / p2 = value or odds ratio = value (value > 0). Differences
// are walked by s = phi1 + phi2, since p1 - p2 = sin(phi1 + phi2) sin(phi1 - phi2): walked by
// either angle alone the curve would meet the edge of the plane with infinite slope. Ratios are
// walked by the angle that covers all of its range.
class ContrastCurve {
 public:
  ContrastCurve(Contrast contrast, double value);

  struct Point {
    double phi1 = 0, phi2 = 0;
    double slope2 = 0;  // d phi2 / d s
  };
  Point at(double s) const;
  double first() const { return first_; }  // s where the curve enters the plane
  double last() const { return last_; }    // and where it leaves
  // s where the curve has that angle, held within first() .. last().
  double at_phi1(double phi1) const;
  double at_phi2(double phi2) const;
  // Below this phi2 the contrast is above its value whatever phi1 is (differences under 0 only).
  double always_above_below() const { return always_; }

 private:
  Contrast contrast_;
  double value_, root_ = 0, first_ = 0, last_ = 0, always_ = 0;
};

}  // namespace plumule::stats
