#include "stats/sowing/stand_share.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>
#include <stdexcept>
#include <utility>

#include "stats/numeric/distributions.hpp"

namespace plumule::stats {
namespace {

// Cells of equal width in the arcsine scale, in which a share's spread is about the same
// everywhere. Nodes that fall in one cell become one, at their mean.
class Cells {
 public:
  explicit Cells(int count) : sums_(static_cast<std::size_t>(count)) {}

  std::size_t of(double share) const {
    const double angle = std::asin(std::sqrt(std::clamp(share, 0.0, 1.0))) / (std::numbers::pi / 2);
    const auto cell = static_cast<std::size_t>(angle * static_cast<double>(sums_.size()));
    return std::min(cell, sums_.size() - 1);
  }
  void add(double share, double weight) {
    Sum& sum = sums_[of(share)];
    sum.weight += weight;
    sum.shares += weight * share;
  }
  std::vector<ShareNode> nodes() const {
    std::vector<ShareNode> nodes;
    for (const Sum& sum : sums_)
      if (sum.weight > 0) nodes.push_back({sum.shares / sum.weight, sum.weight});
    return nodes;
  }

 private:
  struct Sum {
    double weight = 0, shares = 0;
  };
  std::vector<Sum> sums_;
};

struct Spread {
  double weight = 0, shares = 0, rhos = 0;
};

// Points that are alike in rho and in the share that comes of them, taken together.
std::vector<Spread> thinned(std::span<const LotPoint> lot, std::span<const FactorNode> factor) {
  constexpr int share_cells = 100;
  const Cells cells(share_cells);
  std::map<std::pair<double, std::size_t>, Spread> alike;  // by the lot's rho and the share's cell
  for (const LotPoint& point : lot)
    for (const FactorNode& node : factor) {
      const double share = point.p * node.factor;
      const double rho =
          share >= 1 ? point.rho : point.rho * node.factor * (1 - point.p) / (1 - share);
      const double weight = point.weight * node.weight;
      Spread& spread = alike[{point.rho, cells.of(share)}];
      spread.weight += weight;
      spread.shares += weight * share;
      spread.rhos += weight * rho;
    }
  std::vector<Spread> all;
  for (const auto& [key, spread] : alike)
    if (spread.weight > 0)
      all.push_back({spread.weight, spread.shares / spread.weight, spread.rhos / spread.weight});
  return all;
}

}  // namespace

std::vector<LotPoint> sown_in(std::span<const LotPoint> lot, const RhoPrior& prior) {
  check_rho_prior(prior);
  std::map<double, double> weights;  // of each p
  for (const LotPoint& point : lot) weights[point.p] += point.weight;
  const int slices = prior.is_fixed() ? 1 : 12;
  std::vector<LotPoint> points;
  for (const auto& [p, weight] : weights)
    for (int i = 0; i < slices; ++i)
      points.push_back({p, rho_quantile(prior, (i + 0.5) / slices), weight / slices});
  return points;
}

std::vector<ShareNode> stand_share(std::span<const LotPoint> lot,
                                   std::span<const FactorNode> factor, std::int64_t sowings) {
  if (lot.empty() || factor.empty() || sowings < 1)
    throw std::domain_error("stand_share: nothing is known of the lot or of what is to be sown");
  for (const FactorNode& node : factor)
    if (!(node.factor >= 0 && node.factor <= 1 && node.weight >= 0))
      throw std::domain_error("stand_share: a factor is a share");
  const std::vector<Spread> spreads = thinned(lot, factor);
  // Slices of equal weight, as many as come to about 8,000 quantiles in all.
  const int slices = std::clamp(8000 / static_cast<int>(spreads.size()), 6, 400);
  constexpr int out_cells = 400;
  Cells cells(out_cells);
  for (const Spread& spread : spreads) {
    const double rho = spread.rhos / static_cast<double>(sowings);
    const double p = spread.shares;
    constexpr double no_spread = 1e-9;
    if (rho < no_spread || p <= 0 || p >= 1) {
      cells.add(p, spread.weight);
      continue;
    }
    const double size = (1 - rho) / rho;
    for (int i = 0; i < slices; ++i)
      cells.add(beta_quantile((i + 0.5) / slices, p * size, (1 - p) * size),
                spread.weight / slices);
  }
  std::vector<ShareNode> nodes = cells.nodes();
  double total = 0;
  for (const ShareNode& node : nodes) total += node.weight;
  for (ShareNode& node : nodes) node.weight /= total;
  return nodes;
}

std::vector<FactorNode> one_after_other(std::span<const FactorNode> first,
                                        std::span<const FactorNode> second) {
  std::vector<FactorNode> nodes;
  for (const FactorNode& a : first)
    for (const FactorNode& b : second) nodes.push_back({a.factor * b.factor, a.weight * b.weight});
  return nodes;
}

std::vector<FactorNode> share_seen(std::int64_t through, std::int64_t of) {
  if (through < 0 || through > of)
    throw std::domain_error("share_seen: no more can come through than there were");
  constexpr int slices = 12;
  std::vector<FactorNode> nodes;
  const double a = static_cast<double>(through) + 0.5, b = static_cast<double>(of - through) + 0.5;
  for (int i = 0; i < slices; ++i)
    nodes.push_back({beta_quantile((i + 0.5) / slices, a, b), 1.0 / slices});
  return nodes;
}

}  // namespace plumule::stats
