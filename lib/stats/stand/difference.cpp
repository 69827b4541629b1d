// On every line t is solved for by Halley's steps, four lines at a time; where these do not settle
// at once (near 0 and 100 %, where D hardly rises) one line at a time, inside a bracket.
#include "stats/stand/difference.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <span>

#include "stats/numeric/wide_normal.hpp"

namespace plumule::stats {
namespace {

constexpr double pi = std::numbers::pi, farthest = 1.5 * pi;
constexpr double near_enough = 1e-3, flattest = 1e-12;
using FourLines = Difference::FourLines;

constexpr double square(double x) { return x * x; }

// sin^2 between 0 and pi/2, carried on beyond in mirror image, with its slope and half its bend.
struct Percentage {
  double value, slope, half_bend;
};
Percentage percentage(double angle) {
  angle = std::clamp(angle, -pi / 2, pi);
  const double s = std::sin(angle), c = std::cos(angle), low = s * s, high = c * c;
  if (angle < 0) return {-low, -2 * s * c, low - high};
  if (angle > pi / 2) return {1 + high, -2 * s * c, low - high};
  return {low, 2 * s * c, high - low};
}

// The same of four angles. sin^2 a = 1/2 + sin v cos v, v = a - pi/4, by Taylor's series: within
// 1e-13, as |v| <= pi/4.
struct FourPercentages {
  Four value, slope, half_bend;

  [[gnu::always_inline]] explicit FourPercentages(const Four& angle) {
    const Four none = {0, 0, 0, 0}, right = none + pi / 2;
    const Four within = angle < none - pi / 2 ? none - pi / 2
                        : angle > none + pi   ? none + pi
                                              : angle;
    const auto below = within < none;
    const auto above = within > right;
    const Four v = (below ? -within : above ? pi - within : within) - pi / 4, w = v * v;
    static constexpr double sine[] = {
        1, -1.0 / 6, 1.0 / 120, -1.0 / 5040, 1.0 / 362880, -1.0 / 39916800, 1.0 / 6227020800};
    static constexpr double cosine[] = {
        1,           -1.0 / 2,       1.0 / 24,        -1.0 / 720,
        1.0 / 40320, -1.0 / 3628800, 1.0 / 479001600, -1.0 / 87178291200};
    Four s, c;
    polynomial(w, sine, s);
    polynomial(w, cosine, c);
    s *= v;
    const Four low = 0.5 + s * c, bend = -2 * s * c;
    value = below ? -low : above ? 2 - low : low;
    slope = 1 - 2 * s * s;
    half_bend = below | above ? -bend : bend;
  }
};

// To where D would be d if it went on from where it is `from` with its slope and bend.
[[gnu::always_inline]] inline void start(FourLines& lines, double d, double from) {
  const Four by = (d - from) / lines.slope, turn = lines.half_bend * by / lines.slope;
  const Four none = {0, 0, 0, 0}, end = none + farthest;
  const Four at = lines.at + (turn * turn < 0.1 ? by * (1 - turn) : by);
  lines.at = at < -end ? -end : at > end ? end : at;
}

// One of Halley's steps, which leaves about the cube of its own length to go. Whether that will do.
[[gnu::always_inline]] inline bool step(FourLines& lines, double d) {
  const Four down = 1 - lines.up;
  const FourPercentages first(lines.c + lines.up * lines.at), second(lines.c - down * lines.at);
  const Four off = first.value - second.value - d, least = {flattest, flattest, flattest, flattest};
  Four slope = lines.up * first.slope + down * second.slope;
  slope = slope > least ? slope : least;
  lines.half_bend = lines.up * lines.up * first.half_bend - down * down * second.half_bend;
  const Four turn = slope - off * lines.half_bend / slope;
  const Four by = -off / (turn > 0.5 * slope ? turn : slope);
  lines.at += by;
  const Four bend = lines.half_bend * by;
  lines.slope = slope + 2 * bend;
  lines.slope = lines.slope > least ? lines.slope : least;
  const auto settled = (by * by < square(near_enough)) &
                       (bend * bend < square(0.01) * slope * slope) &
                       (lines.at * lines.at <= square(farthest));
  return (settled[0] & settled[1] & settled[2] & settled[3]) != 0;
}

// The same inside a bracket. Where D is flat and only its bend is left (beyond both ends) Halley's
// step would creep: Newton's is then far outside, and the bracket is halved.
void solve_alone(FourLines& lines, std::size_t l, double d) {
  const double c = lines.c[l], up = lines.up[l], down = 1 - up;
  double low = -farthest, high = farthest, at = std::clamp(lines.at[l], low, high);
  double slope = 1, half_bend = 0;
  for (int i = 0; i < 100; ++i) {
    const auto first = percentage(c + up * at), second = percentage(c - down * at);
    const double off = first.value - second.value - d;
    slope = std::max(up * first.slope + down * second.slope, flattest);
    half_bend = up * up * first.half_bend - down * down * second.half_bend;
    (off > 0 ? high : low) = at;
    const double turn = slope - off * half_bend / slope;
    const bool gentle = turn > 0.5 * slope && turn < 4 * slope;
    const double by = -off / (gentle ? turn : slope), next = at + by;
    const bool inside = next >= low && next <= high;
    const double here = slope;
    slope += 2 * half_bend * by;
    at = inside ? next : (low + high) / 2;
    if (inside && std::fabs(by) < near_enough && std::fabs(half_bend * by) < 0.01 * here) break;
  }
  lines.at[l] = at;
  lines.slope[l] = std::max(slope, flattest);
  lines.half_bend[l] = half_bend;
}

void solve_one_by_one(FourLines& lines, double d) {
  for (std::size_t l = 0; l < 4; ++l) solve_alone(lines, l, d);
}

PLUMULE_WIDE
void sum_tails(std::span<FourLines> all, double d, double from, TwoTails& made) {
  constexpr int most_steps = 4;
  TailSum sum;
  for (FourLines& lines : all) {
    start(lines, d, from);
    bool settled = false;
    for (int i = 0; i < most_steps && !settled; ++i) settled = step(lines, d);
    if (!settled) solve_one_by_one(lines, d);
    sum.add(lines.by_trial, lines.at_large, (lines.at - lines.t) * lines.per_sd,
            lines.per_sd / lines.slope);
  }
  made = sum.whole();
}

}  // namespace

Difference::Difference(const StandModel& model, std::size_t first, std::size_t second) {
  const std::size_t all = model.layout().treatments();
  lines_.resize((3 * model.nodes().size() + 3) / 4);
  std::size_t filled = 0;
  double variance_of_d = 0;
  for (const auto& node : model.nodes()) {
    const double v1 = node.covariance[first * all + first];
    const double v2 = node.covariance[second * all + second];
    const double both = node.covariance[first * all + second];
    const double variance = v1 + v2 - 2 * both;
    const double t = node.angle[first] - node.angle[second];
    const double up = std::clamp((v1 - both) / variance, 0.0, 1.0), down = 1 - up;
    const double shared = node.angle[second] + down * t;
    const double shared_sd =
        std::sqrt(std::max(0.0, down * down * v1 + up * up * v2 + 2 * up * down * both));
    for (const double z : {-std::numbers::sqrt3, 0.0, std::numbers::sqrt3}) {
      const double share = z == 0 ? 2.0 / 3 : 1.0 / 6;
      auto& four = lines_[filled / 4];
      const std::size_t l = filled++ % 4;
      four.by_trial[l] = share * node.by_trial;
      four.at_large[l] = share * node.at_large;
      four.t[l] = t;
      four.per_sd[l] = 1 / std::sqrt(variance);
      four.c[l] = shared + z * shared_sd;
      four.up[l] = up;
    }
    const auto one = percentage(node.angle[first]), two = percentage(node.angle[second]);
    centre_ += node.by_trial * (one.value - two.value);
    variance_of_d += node.by_trial * (v1 * square(one.slope) + v2 * square(two.slope));
  }
  sd_ = std::sqrt(variance_of_d);
}

TwoTails Difference::operator()(double d) {
  TwoTails made;
  sum_tails(lines_, d, last_, made);
  last_ = d;
  return made;
}

}  // namespace plumule::stats
