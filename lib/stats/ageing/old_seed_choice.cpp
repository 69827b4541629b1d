#include "stats/ageing/old_seed_choice.hpp"

#include <algorithm>
#include <array>
#include <stdexcept>

#include "stats/trays/fresh_sowing.hpp"

namespace plumule::stats {
namespace {

constexpr std::array<double, 5> thicknesses = {1, 1.5, 2, 3, 4};
constexpr double thickest_unknown = 2;  // where the stock is not known
constexpr std::array<std::int64_t, 3> test_sizes = {10, 20, 40};
constexpr double hardly = 0.10;  // the chance at which the standard is held to be missed

// One value of p with its nodes of rho.
struct Share {
  double p, weight;
  std::span<const LotPoint> points;
  double from = 0, to = 0;  // it stands for these, up to half way to its neighbours

  double above(double line) const {
    if (to <= from) return p >= line ? 1 : 0;
    return std::clamp((to - line) / (to - from), 0.0, 1.0);
  }
};

std::vector<Share> shares_of(std::span<const LotPoint> lot) {
  std::vector<Share> shares;
  for (std::size_t from = 0; from < lot.size();) {
    std::size_t to = from;
    double weight = 0;
    for (; to < lot.size() && lot[to].p == lot[from].p; ++to) weight += lot[to].weight;
    shares.push_back({lot[from].p, weight, lot.subspan(from, to - from)});
    from = to;
  }
  for (std::size_t i = 0; i < shares.size(); ++i) {
    auto& share = shares[i];
    const double down = i > 0 ? share.p - shares[i - 1].p : -1;
    const double up = i + 1 < shares.size() ? shares[i + 1].p - share.p : down;
    share.to = share.p + std::max(0.0, up) / 2;
    share.from = share.p - std::max(0.0, down >= 0 ? down : up) / 2;
  }
  return shares;
}

// Chances of the counts of a towel of n seeds, if this is the lot's p.
std::vector<double> counts_of(const Share& share, std::int64_t n) {
  std::vector<LotPoint> points(share.points.begin(), share.points.end());
  for (auto& point : points) point.weight /= share.weight;
  return fresh_test_chances(points, std::array{n});
}

class Season {
 public:
  Season(std::span<const LotPoint> lot, const OldSeedQuestion& question)
      : question_(question), shares_(shares_of(lot)) {
    for (const auto& share : shares_) weights_.push_back(share.weight);
    for (const double times : thicknesses)
      if (times <= thickest() || times == 1) open_.push_back({Way::sow, std::min(times, most())});
    const std::size_t sowings = open_.size();
    if (!question.irreplaceable) {
      for (std::size_t i = 0; i < sowings; ++i) open_.push_back({Way::sow_and_buy, open_[i].times});
      open_.push_back({Way::replace, 1});
    }
    for (const auto& considered : open_) {
      auto& row = losses_.emplace_back();
      for (const auto& share : shares_)
        row.push_back(season_loss(considered.way, considered.times, share.p, question.standard,
                                  question.costs));
    }
  }

  const std::vector<double>& weights() const { return weights_; }

  // P(p >= share of the standard) under such weights of the shares.
  double chance(const std::vector<double>& weights, double of_standard) const {
    double met = 0, all = 0;
    for (std::size_t i = 0; i < shares_.size(); ++i) {
      all += weights[i];
      met += weights[i] * shares_[i].above(of_standard * question_.standard);
    }
    return all > 0 ? met / all : 0;
  }

  bool may_replace(const std::vector<double>& weights, bool towel) const {
    if (question_.irreplaceable || question_.tests_clash) return false;
    return (towel && chance(weights, 1) <= hardly) ||
           (question_.sown_twice_under_cover && chance(weights, 0.5) <= hardly);
  }

  // Each way that is open, with its loss; weights that add to less than 1 give as much less.
  std::vector<Considered> considered(const std::vector<double>& weights, bool towel) const {
    std::vector<Considered> all;
    for (std::size_t w = 0; w < open_.size(); ++w) {
      if (open_[w].way == Way::replace && !may_replace(weights, towel)) continue;
      all.push_back(open_[w]);
      for (std::size_t i = 0; i < shares_.size(); ++i)
        all.back().loss += weights[i] * losses_[w][i];
    }
    return all;
  }

  static const Considered& best(const std::vector<Considered>& all) {
    return *std::min_element(all.begin(), all.end(), [](const Considered& a, const Considered& b) {
      return a.loss < b.loss;
    });
  }

  // The least expected loss if the lot's p were known: no test can do better.
  double knowing_all() const {
    double loss = 0;
    for (std::size_t i = 0; i < shares_.size(); ++i) {
      double least = losses_.front()[i];
      for (const auto& row : losses_) least = std::min(least, row[i]);
      loss += weights_[i] * least;
    }
    return loss;
  }

  // The least expected loss once a towel of n seeds has been seen.
  double after_test(std::int64_t n) const {
    std::vector<std::vector<double>> counts;
    for (const auto& share : shares_) counts.push_back(counts_of(share, n));
    double loss = 0;
    std::vector<double> weights(shares_.size());
    for (std::size_t x = 0; x <= static_cast<std::size_t>(n); ++x) {
      for (std::size_t i = 0; i < shares_.size(); ++i) weights[i] = weights_[i] * counts[i][x];
      loss += best(considered(weights, true)).loss;
    }
    return loss;
  }

 private:
  double thickest() const { return question_.times_left.value_or(thickest_unknown); }
  double most() const { return std::max(0.0, question_.times_left.value_or(4)); }

  const OldSeedQuestion& question_;
  std::vector<Share> shares_;
  std::vector<double> weights_;
  std::vector<Considered> open_;
  std::vector<std::vector<double>> losses_;  // of each way that is open, by share
};

}  // namespace

OldSeedChoice choose_for_old_seed(std::span<const LotPoint> lot, const OldSeedQuestion& question) {
  if (lot.empty()) throw std::domain_error("a choice needs what is believed of the lot");
  if (!(question.standard > 0 && question.standard <= 1))
    throw std::domain_error("a standard is above 0, at most 1");
  if (question.times_left && !(*question.times_left > 0))
    throw std::domain_error("of a lot that is used up there is nothing to choose");
  check_costs(question.costs);
  const Season season(lot, question);
  OldSeedChoice choice;
  choice.all = season.considered(season.weights(), question.towel_within_year);
  choice.best = Season::best(choice.all);
  choice.p_meets = season.chance(season.weights(), 1);
  choice.p_half = season.chance(season.weights(), 0.5);
  const double knowing_all = season.knowing_all();
  for (const std::int64_t n : test_sizes) {
    if (question.seeds_to_spare && n > *question.seeds_to_spare) break;
    const double cost = question.costs.test + question.costs.seed * static_cast<double>(n);
    if (cost >= choice.best.loss - knowing_all - choice.test_saves) break;
    const double saves = choice.best.loss - season.after_test(n) - cost;
    if (saves <= choice.test_saves) continue;
    choice.test_seeds = n;
    choice.test_saves = saves;
  }
  return choice;
}

}  // namespace plumule::stats
