// The walk along one treatment's angle against an adaptive integral along the curve of equal
// contrast: another way through the same joint density.
#include "stats/trays/angle_walk.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>
#include <vector>

#include "stats/numeric/chebyshev.hpp"
#include "stats/trays/curve_integral.hpp"
#include "stats/trays/tray_likelihood.hpp"
#include "support/close.hpp"

using namespace plumule::stats;

namespace {

// Two independent treatments, each seed by itself (rho 0), tabulated.
struct Pair {
  AngleTable first, second;
  std::vector<double> joint, turned;

  Pair(const TrayCount& one, const TrayCount& two) {
    const TrayLikelihood a({&one, 1}), b({&two, 1});
    const std::array<const TrayLikelihood*, 2> arms{&a, &b};
    const auto live = find_live_nodes(rho_fixed_at(0), arms);
    first = make_angle_table(a, live, 0);
    second = make_angle_table(b, live, 1);
    const double mass =
        dot(clenshaw_curtis_weights(first.points - 1), first.values) *
        dot(std::vector<double>(clenshaw_curtis_weights(second.points - 1)), second.values);
    for (const double v2 : second.values)
      for (const double v1 : first.values) joint.push_back(v1 * v2 / mass);
    for (const double v1 : first.values)
      for (const double v2 : second.values) turned.push_back(v1 * v2 / mass);
  }
  double by_curve(Contrast contrast, double value) const {
    return above_by_curve(contrast, value, first.map, second.map, first.points, joint);
  }
  AngleWalk along_second() const {
    return {second.map, second.points, first.map, first.points, turned};
  }
  AngleWalk along_first() const {
    return {first.map, first.points, second.map, second.points, joint};
  }
};

}  // namespace

TEST_CASE("a walk is right wherever it has no doubt") {
  int sure = 0, doubtful = 0;
  for (const auto& both : {std::pair<TrayCount, TrayCount>{{40, 50}, {30, 50}},
                           {{200, 200}, {190, 200}},
                           {{0, 30}, {2, 40}},
                           {{1, 1}, {0, 1}},
                           {{97, 100}, {1, 2}},
                           {{79900, 100000}, {80000, 100000}},
                           {{50000, 100000}, {3, 5}},
                           {{0, 100000}, {100000, 100000}}}) {
    const TrayCount &one = both.first, &two = both.second;
    const Pair pair(one, two);
    const auto by_second = pair.along_second(), by_first = pair.along_first();
    const auto check = [&](Contrast contrast, double value, double back) {
      CAPTURE(one.up);
      CAPTURE(two.up);
      CAPTURE(value);
      const double right = pair.by_curve(contrast, value);
      if (by_second.doubt(contrast, value) <= 2e-9) {
        CHECK_WITHIN(1 - by_second.other_below(contrast, value), right, 2e-7);
        ++sure;
      } else {
        ++doubtful;
      }
      if (by_first.doubt(contrast, back) <= 2e-9) {
        CHECK_WITHIN(by_first.other_below(contrast, back), right, 2e-7);
        ++sure;
      } else {
        ++doubtful;
      }
    };
    for (const double d : {-0.9, -0.3, -0.05, -0.001, 0.0, 0.002, 0.02, 0.1, 0.5, 0.97})
      check(Contrast::difference, d, -d);
    for (const double c : {0.2, 0.8, 1.0, 1.1, 4.0}) {
      check(Contrast::ratio, c, 1 / c);
      check(Contrast::odds_ratio, c, 1 / c);
    }
  }
  // Most walks are sure of themselves, and some must not be.
  CHECK(sure > 3 * doubtful);
  CHECK(doubtful > 20);
}

TEST_CASE("a walk that meets the edge inside, or strides over a step, says so") {
  // All 20 up: p1 is likeliest at 1, which a difference of a tenth reaches at p2 = 0.9.
  const Pair edge({20, 20}, {17, 20});
  CHECK(edge.along_second().doubt(Contrast::difference, 0.1) > 1e-5);
  CHECK(edge.along_first().doubt(Contrast::difference, -0.1) < 1e-9);
  // A hundred thousand seeds beside ten.
  const Pair step({50000, 100000}, {5, 10});
  CHECK(step.along_second().doubt(Contrast::difference, 0) > 0.01);
  CHECK(step.along_first().doubt(Contrast::difference, 0) < 1e-9);
}
