// See the header.
#include "stats/times/grouped_score_test.hpp"

#include <Eigen/Dense>
#include <algorithm>
#include <array>
#include <cmath>
#include <vector>

#include "stats/numeric/distributions.hpp"
#include "stats/times/npmle.hpp"

namespace plumule::stats {
namespace {

// S after each set (1 before the first, 0 after the last), with its first and second derivative in
// log(-log S); nothing is free at 1 and at 0.
struct Baseline {
  std::vector<double> ends, s, first, second;
};

Baseline baseline(const Npmle& pooled) {
  Baseline made;
  made.s = {1};
  made.first = made.second = {0};
  for (std::size_t j = 0; j < pooled.points.size(); ++j) {
    made.ends.push_back(pooled.points[j].right);
    const bool last = j + 1 == pooled.points.size();
    const double s = last ? 0 : std::max(made.s.back() - pooled.points[j].mass, 1e-300);
    const double hazard = last ? 0 : -std::log(s);
    made.s.push_back(s);
    made.first.push_back(-hazard * s);
    made.second.push_back((hazard * hazard - hazard) * s);
  }
  return made;
}

}  // namespace

GroupedScoreTest grouped_score_test(std::span<const TimeCourse> treatment,
                                    std::span<const TimeCourse> against) {
  std::vector<TimeCourse> all(treatment.begin(), treatment.end());
  all.insert(all.end(), against.begin(), against.end());
  const Pool together = pool(all);
  GroupedScoreTest test;
  if (!together.all_known || treatment.empty() || against.empty()) return test;
  const Npmle pooled = npmle(together.spans);
  if (pooled.points.size() < 2) return test;
  const Baseline base = baseline(pooled);
  const auto sets = static_cast<Eigen::Index>(pooled.points.size());

  // Parameters: the log hazard ratio (0), then log(-log S) after each set but the last (1, 2, ...).
  Eigen::MatrixXd information = Eigen::MatrixXd::Zero(sets, sets);
  for (const bool treated : {true, false}) {
    const double z = treated ? 1 : 0;
    for (const Span& span : pool(treated ? treatment : against).spans) {
      const auto ended = [&base](double t) {
        return std::upper_bound(base.ends.begin(), base.ends.end(), t) - base.ends.begin();
      };
      Eigen::Index l = span.left == no_end ? sets : ended(span.left);
      const Eigen::Index r = ended(span.right);
      if (l == r && r == sets) --l;  // known never to come up: as those censored last
      const double share =
          base.s[static_cast<std::size_t>(l)] - base.s[static_cast<std::size_t>(r)];
      if (!(share > 0)) return test;
      // The three places a span's derivatives can lie in: beta and the two ends.
      const std::array<Eigen::Index, 3> place = {0, l, r};
      std::array<double, 3> slope{};
      std::array<std::array<double, 3>, 3> bend{};
      for (const std::size_t end : {1u, 2u}) {
        const double sign = end == 1 ? 1 : -1;
        const auto at = static_cast<std::size_t>(place[end]);
        const double one = sign * base.first[at], two = sign * base.second[at];
        slope[0] += z * one;
        bend[0][0] += z * z * two;
        slope[end] = one;
        bend[end][end] = two;
        bend[0][end] = bend[end][0] = z * two;
      }
      test.u += span.count * slope[0] / share;
      for (std::size_t a = 0; a < 3; ++a)
        for (std::size_t b = 0; b < 3; ++b) {
          const bool free_a = a == 0 || (place[a] > 0 && place[a] < sets);
          const bool free_b = b == 0 || (place[b] > 0 && place[b] < sets);
          if (!free_a || !free_b) continue;
          information(place[a], place[b]) +=
              span.count * (slope[a] * slope[b] / (share * share) - bend[a][b] / share);
        }
    }
  }
  const auto inner = information.bottomRightCorner(sets - 1, sets - 1);
  const Eigen::VectorXd cross = information.col(0).tail(sets - 1);
  const Eigen::LDLT<Eigen::MatrixXd> solver(inner);
  if (solver.info() != Eigen::Success) return test;
  test.variance = information(0, 0) - cross.dot(solver.solve(cross));
  if (!(test.variance > 1e-9) || !std::isfinite(test.variance)) return test;
  test.given = true;
  test.chi_squared = test.u * test.u / test.variance;
  test.p = chi_squared_upper(test.chi_squared, 1);
  return test;
}

}  // namespace plumule::stats
