// Products for the sizes growers have; for larger units, or where a product would underflow,
// TrayLikelihood's log Gamma differences.
#include "stats/stand/likelihood.hpp"

#include <algorithm>
#include <cmath>

namespace plumule::stats {
namespace {

constexpr std::int64_t longest_product = 300;
// A product that is smaller is not trusted; what is gathered stays within these.
constexpr double smallest = 1e-140, low = 1e-150, high = 1e150;

}  // namespace

StandLikelihood::StandLikelihood(const StandLayout& layout) : layout_(layout) {
  if (!layout.sizes.empty()) largest_ = static_cast<std::int64_t>(layout.sizes.back());
  if (largest_ > longest_product) return;
  struct Wanted {
    std::size_t lane;
    std::int64_t length;
  };
  std::vector<std::vector<Wanted>> wanted(2 * layout.cells.size() / rising_lanes + 1);
  const auto want = [&](std::size_t start, std::int64_t length) {
    if (length > 0) wanted[start / rising_lanes].push_back({start % rising_lanes, length});
  };
  for (std::size_t c = 0; c < layout.cells.size(); ++c)
    for (const auto& unit : layout.cells[c].counts) {
      want(0, unit.sown);
      want(2 * c + 1, unit.up);
      want(2 * c + 2, unit.sown - unit.up);
    }
  std::size_t most = 0;
  for (auto& asked : wanted) {
    auto& twelve = twelves_.emplace_back();
    std::sort(asked.begin(), asked.end(),
              [](const Wanted& a, const Wanted& b) { return a.length < b.length; });
    for (const auto& one : asked) {
      if (twelve.runs.empty() || twelve.runs.back().length != one.length)
        twelve.runs.push_back({one.length, 1});
      twelve.factors.push_back({one.lane, twelve.runs.size() - 1});
    }
    most = std::max(most, twelve.runs.size());
  }
  products_.resize(most);
}

double StandLikelihood::log_at(std::span<const double> fraction, std::span<const double> missing,
                               double theta) {
  double sum = 0;
  if (largest_ <= longest_product && by_products(fraction, missing, theta, sum)) return sum;
  if (one_by_one_.empty())
    for (const auto& cell : layout_.cells) one_by_one_.emplace_back(cell.counts);
  sum = 0;
  for (std::size_t c = 0; c < one_by_one_.size(); ++c)
    sum += one_by_one_[c].log_at(fraction[c], missing[c], theta);
  return sum;
}

// Every factor is scaled so that products stay near 1: a unit has n of them above the line and n
// below it, so the scale cancels.
bool StandLikelihood::by_products(std::span<const double> fraction, std::span<const double> missing,
                                  double theta, double& sum) {
  const double scale = 1 / (1 + static_cast<double>(largest_ - 1) * theta / 2);
  double product = 1;
  for (std::size_t g = 0; g < twelves_.size(); ++g) {
    RisingLanes starts;
    starts.fill(scale);
    for (std::size_t l = g == 0 ? 1 : 0; l < rising_lanes; ++l)
      if (const std::size_t start = g * rising_lanes + l - 1; start < 2 * fraction.size())
        starts[l] *= start % 2 == 0 ? fraction[start / 2] : missing[start / 2];
    rising_products(starts, theta * scale, twelves_[g].runs, products_.data());
    for (const auto& [lane, run] : twelves_[g].factors) {
      const double value = products_[run][lane];
      if (!(value > smallest)) return false;
      product = g == 0 && lane == 0 ? product / value : product * value;
      if (product < low || product > high) {
        sum += std::log(product);
        product = 1;
      }
    }
  }
  sum += std::log(product);
  return true;
}

}  // namespace plumule::stats
