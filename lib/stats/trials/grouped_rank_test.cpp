#include "stats/trials/grouped_rank_test.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <string>

#include "stats/numeric/distributions.hpp"
#include "stats/trials/randomisation.hpp"

namespace plumule::stats {
namespace {

// S and g at every set of the estimate, from nothing up to all of it.
struct Curve {
  std::vector<double> ends;  // right ends of the sets, rising
  std::vector<double> s;     // 1, then S after each set
  std::vector<double> g;
};

double transformed(RankScores kind, double s, double hazards) {
  switch (kind) {
    case RankScores::sun:
      return -s * hazards;
    case RankScores::finkelstein:
      return s > 1e-14 ? s * std::log(s) : 0;
    case RankScores::wilcoxon:
      break;
  }
  return s * (s - 1);
}

Curve curve(const Npmle& pooled, RankScores kind) {
  Curve c;
  c.s.push_back(1);
  c.g.push_back(0);
  double hazards = 0;
  for (std::size_t i = 0; i < pooled.points.size(); ++i) {
    const MassPoint& point = pooled.points[i];
    const double before = c.s.back();
    hazards += before > 1e-14 ? point.mass / before : 0;
    const bool last = i + 1 == pooled.points.size();
    const double s = last ? 0 : before - point.mass;
    c.ends.push_back(point.right);
    c.s.push_back(s);
    c.g.push_back(transformed(kind, s, hazards));
  }
  return c;
}

// How many sets have ended by t; all of them at infinity.
std::size_t ended_by(const Curve& c, double t) {
  return static_cast<std::size_t>(std::ranges::upper_bound(c.ends, t) - c.ends.begin());
}

}  // namespace

std::vector<double> rank_scores(std::span<const Span> spans, const Npmle& pooled, RankScores kind) {
  const Curve c = curve(pooled, kind);
  std::vector<double> scores;
  scores.reserve(spans.size());
  for (const Span& span : spans) {
    std::size_t l = span.left == no_end ? c.ends.size() : ended_by(c, span.left);
    const std::size_t r = ended_by(c, span.right);
    // A known never-emerger ranks with those censored last.
    if (l == r && r == c.ends.size() && l > 0) --l;
    const double mass = c.s[l] - c.s[r];
    if (!(mass > 0)) throw std::domain_error("a span scored must be part of the estimate");
    scores.push_back((c.g[l] - c.g[r]) / mass);
  }
  return scores;
}

GroupedRankTest grouped_rank_test(std::span<const TimeCourse> treatment,
                                  std::span<const TimeCourse> against, RankScores kind,
                                  std::uint64_t seed) {
  if (treatment.empty() || against.empty())
    throw std::domain_error("a rank test needs sowings of both treatments");
  std::vector<TimeCourse> all(treatment.begin(), treatment.end());
  all.insert(all.end(), against.begin(), against.end());
  const Pool together = pool(all);
  GroupedRankTest test;
  if (!together.all_known) {
    test.status = RankStatus::units_unknown;
    return test;
  }
  const Npmle pooled = npmle(together.spans);
  if (pooled.points.size() < 2) return test;

  double treated_units = 0;
  double squares = 0;  // sum of squared scores
  for (std::size_t i = 0; i < all.size(); ++i) {
    const std::vector<Span> spans = spans_of(all[i]);
    const std::vector<double> scores = rank_scores(spans, pooled, kind);
    SowingScore sowing;
    for (std::size_t j = 0; j < spans.size(); ++j) {
      sowing.units += spans[j].count;
      sowing.sum += spans[j].count * scores[j];
      squares += spans[j].count * scores[j] * scores[j];
    }
    if (i < treatment.size()) treated_units += sowing.units;
    test.sowings.push_back(sowing);
  }
  double sum = 0;
  for (const SowingScore& sowing : test.sowings) sum += sowing.sum;
  const double n = together.units;
  const double mean = sum / n;
  std::vector<RandomisedUnit> units;
  for (std::size_t i = 0; i < all.size(); ++i) {
    SowingScore& sowing = test.sowings[i];
    sowing.excess = sowing.sum - sowing.units * mean;
    const bool treated = i < treatment.size();
    if (treated) test.u += sowing.excess;
    units.push_back({"", 0, treated, sowing.excess});
  }
  // Treatment coded 0 and 1 over seeds: sum (z - mean z)^2 = n1 n2 / n.
  const double about_mean = squares - n * mean * mean;
  const double variance = about_mean * treated_units * (n - treated_units) / n / (n - 1);
  if (!(variance > 1e-12)) return test;
  test.status = RankStatus::compared;
  test.variance = variance;
  test.z = test.u / std::sqrt(variance);
  test.p_seeds = 2 * normal_upper(std::fabs(test.z));
  // The excesses sum to 0, so their sum over one treatment orders the labellings as the difference
  // of mean excesses does.
  const Randomisation lots = randomisation_test(units, seed);
  test.p_sowings = lots.p;
  test.smallest_p = lots.smallest_p;
  test.arrangements = lots.arrangements;
  test.exact = lots.exact;
  return test;
}

}  // namespace plumule::stats
