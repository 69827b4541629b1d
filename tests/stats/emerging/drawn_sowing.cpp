#include "stats/emerging/drawn_sowing.hpp"

#include <cmath>
#include <numbers>

#include "stats/numeric/distributions.hpp"

namespace plumule::tests {
namespace {

using namespace plumule::stats;

double drawn_factor(Random& random, Ground ground) {
  if (ground == Ground::towel) return 1;
  if (ground == Ground::under_cover)
    return random.unit() < 0.95 ? random.beta(18, 2) : random.beta(1, 19);
  return random.unit() < 0.9 ? random.beta(4, 2) : random.beta(1, 9);
}

double drawn_chance(Random& random, double mean, double rho) {
  if (mean <= 0) return 0;
  if (mean >= 1) return 1;
  return random.beta(mean * (1 - rho) / rho, (1 - mean) * (1 - rho) / rho);
}

}  // namespace

DrawnAnswer drawn_answer(const DrawnQuestion& question, int draws, std::uint64_t seed) {
  Random random(seed);
  const auto spans = spans_of(question.course);
  const double last = last_look(question.course), up = emerged(question.course);
  const double rest = question.course.sown.value_or(0) - up - question.course.never;
  double all = 0, squares = 0, none = 0, more = 0, stand = 0, alive = 0;
  for (int i = 0; i < draws; ++i) {
    const double g = random.unit() < 0.05 ? 0 : std::sqrt(random.unit());
    const double pi = drawn_chance(random, g * drawn_factor(random, question.ground), question.rho);
    const double t4 = random.normal() / std::sqrt(random.gamma(2) / 2);
    const double m = std::exp(0.35 * t4);
    const double spread = 0.25 * std::exp(0.5 * random.normal());
    const bool logistic = random.unit() < 0.5, stragglers = random.unit() < 0.5;
    const auto clock = question.clock(random);
    const auto base = [&](double r) {
      if (r <= 0) return 0.0;
      const double x = std::log(r / m) / spread;
      return logistic ? 1 / (1 + std::exp(-x * std::numbers::pi / std::sqrt(3.0)))
                      : normal_lower(x);
    };
    const auto share = [&](double day) {
      const double r = clock(day);
      return stragglers ? 0.95 * base(r) + 0.05 * base(r / 2) : base(r);
    };
    double likelihood = std::pow(1 - pi * share(last), rest);
    for (const auto& span : spans) {
      if (std::isinf(span.left))
        likelihood *= std::pow(1 - pi, span.count);
      else if (std::isfinite(span.right))
        likelihood *= std::pow(pi * (share(span.right) - share(span.left)), span.count);
    }
    all += likelihood;
    squares += likelihood * likelihood;
    if (!(likelihood > 0)) continue;
    const double now = share(last), then = share(question.by_day);
    none += likelihood * std::pow((1 - pi) / (1 - pi * now), rest);
    const double comes = pi * (then - now) / (1 - pi * now);
    more += likelihood * rest * comes;
    const double missing = question.wanted - up;
    const double enough = missing <= 0     ? 1
                          : missing > rest ? 0
                                           : beta_lower(comes, missing, rest - missing + 1);
    stand += likelihood * enough;
    alive += likelihood * g;
  }
  return {1 - none / all, more / all, stand / all, alive / all, all * all / squares};
}

}  // namespace plumule::tests
