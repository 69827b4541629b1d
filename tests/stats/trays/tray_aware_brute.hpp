// The posterior of p under the beta-binomial by plain sums: log Gamma in long double, Simpson's
// rule over the angle and over the logit of rho. Slow, and independent of the library's way.
#pragma once

#include <algorithm>
#include <cmath>
#include <numbers>
#include <vector>

#include "stats/trays/tray_count.hpp"

namespace plumule::tests {

class BrutePosterior {
 public:
  // rho ~ Beta(1, b), on `nodes` points.
  BrutePosterior(std::vector<stats::TrayCount> trays, double b, int nodes)
      : trays_(std::move(trays)) {
    const double from = -22, to = 6, step = (to - from) / nodes;
    for (int i = 0; i <= nodes; ++i) {
      const long double y = from + step * i, odds = std::exp(y), rho = odds / (1 + odds);
      const long double simpson = (i == 0 || i == nodes ? 1 : i % 2 == 1 ? 4 : 2) * step / 3;
      add_node(rho, std::log(simpson * b) + b * std::log1p(-rho) + std::log(rho));
    }
    add_node(std::exp(from) / 2, std::log(b) + from);  // the prior mass below
    std::erase_if(nodes_, [this](const Node& node) { return node.top < shift_ - 40; });
  }

  // Density of the angle, up to one constant.
  long double density(double phi) const {
    long double sum = 0;
    for (const auto& node : nodes_) sum += std::exp(log_term(node, phi) - shift_);
    return sum;
  }

  // How far, in p, the angle `at` lies from where the share of the posterior below is `share`: the
  // miss in share over the density there. Angles are mapped about `centre` by sinh of that scale.
  double miss_in_p(double at, double share, double centre, double scale, int steps) const {
    const long double below = simpson(0, at, centre, scale, steps);
    const long double mass = below + simpson(at, std::numbers::pi / 2, centre, scale, steps);
    const long double density_of_p = density(at) / mass / std::sin(2 * at);
    return static_cast<double>((below / mass - share) / density_of_p);
  }

 private:
  struct Node {
    long double rho, log_weight, top;
  };
  void add_node(long double rho, long double log_weight) {
    Node node{rho, log_weight, -1e300L};
    double up = 0, sown = 0;
    for (const auto& t : trays_) {
      up += static_cast<double>(t.up);
      sown += static_cast<double>(t.sown);
    }
    node.top = log_term(node, std::asin(std::sqrt((up + 0.25) / (sown + 0.5))));
    for (int i = 1; i < 64; ++i)
      node.top = std::max(node.top, log_term(node, std::numbers::pi / 128 * i));
    shift_ = std::max(shift_, node.top);
    nodes_.push_back(node);
  }
  long double log_term(const Node& node, double phi) const {
    const long double s = std::sin(phi), p = s * s, c = std::cos(phi), q = c * c;
    const long double scale = (1 - node.rho) / node.rho;
    long double log_l = node.log_weight;
    for (const auto& t : trays_)
      log_l += rising(p * scale, t.up) + rising(q * scale, t.sown - t.up) - rising(scale, t.sown);
    return log_l;
  }
  // log of x (x + 1) ... (x + n - 1) / its scale^n left in: the scales cancel over a tray.
  static long double rising(long double x, std::int64_t n) {
    if (n == 0) return 0;
    if (x <= 0) return -1e9L;
    return lgammal(x + static_cast<long double>(n)) - lgammal(x);
  }
  long double simpson(double from, double to, double centre, double scale, int steps) const {
    const double u0 = std::asinh((from - centre) / scale), u1 = std::asinh((to - centre) / scale);
    const double step = (u1 - u0) / steps;
    long double sum = 0;
    for (int i = 0; i <= steps; ++i) {
      const double u = u0 + step * i;
      const double phi = std::clamp(centre + scale * std::sinh(u), from, to);
      sum += (i == 0 || i == steps ? 1 : i % 2 == 1 ? 4 : 2) * density(phi) * std::cosh(u);
    }
    return sum * step * scale / 3;
  }

  std::vector<stats::TrayCount> trays_;
  std::vector<Node> nodes_;
  long double shift_ = -1e300L;  // near the largest term, so that the sums stay in range
};

}  // namespace plumule::tests
