// See the header for what is exact here and what is not.
#include "stats/stand/plan.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <stdexcept>
#include <vector>

#include "stats/numeric/chebyshev.hpp"
#include "stats/numeric/random.hpp"
#include "stats/numeric/wide_normal.hpp"
#include "stats/stand/claims.hpp"

namespace plumule::stats {
namespace {

constexpr std::array layouts = {2, 3, 4, 5, 6, 8, 10, 12, 16, 20, 24, 32, 48};
constexpr int quick_trials = 600;
constexpr double level = 0.05;
constexpr std::size_t points = 24;

void check(const SupposedStand& s, double d, int trials) {
  if (!(s.first >= 0 && s.first <= 1 && s.second >= 0 && s.second <= 1))
    throw std::domain_error("a supposed percentage must lie between 0 and 100 %");
  if (!(s.rho >= 0 && s.rho < 1)) throw std::domain_error("a supposed rho must lie in [0, 1)");
  if (s.trays < 1 || s.seeds < 1 || s.seeds > 1'000'000'000 || s.differences < 1 || trials < 1)
    throw std::domain_error("a trial to suppose needs trays, seeds and a number of trials");
  if (!(d > 0 && d <= 1))
    throw std::domain_error("the smallest difference worth having must lie in (0, 1]");
}

void count(StandOutlook& made, StandClaim code, double share) {
  (code == StandClaim::more      ? made.more
   : code == StandClaim::fewer   ? made.fewer
   : code == StandClaim::neither ? made.neither
                                 : made.too_small) += share;
}

double angle_of(double p) { return std::asin(std::sqrt(p)); }

// Four values of rho.
struct alignas(sizeof(Four)) FourNodes {
  Four per_f = {1, 1, 1, 1}, per_sd = {1, 1, 1, 1};       // 1 / f, and of the angles' difference
  Four by_trial = {0, 0, 0, 0}, at_large = {0, 0, 0, 0};  // weights, but for the misfit
};

// Of one difference t of angles by both weighings, in units of the whole: the tail beyond 0, and
// the part between -edge and edge.
struct TwoChances {
  double wrong_sign[2], within[2];
};
PLUMULE_WIDE
void find_chances(const std::vector<FourNodes>& nodes, double t, double edge, double misfit,
                  TwoChances& made) {
  Four mass[2] = {}, wrong_sign[2] = {}, within[2] = {};
  for (const FourNodes& four : nodes) {
    Four weight = -misfit / 2 * four.per_f, tail, below, above, unused;
    to_exp(weight);
    normal_at(-std::fabs(t) * four.per_sd, tail, unused);
    normal_at((-edge - t) * four.per_sd, below, unused);
    normal_at((t - edge) * four.per_sd, above, unused);
    const Four weights[2] = {weight * four.by_trial, weight * four.at_large};
    for (const std::size_t w : {0u, 1u}) {
      mass[w] += weights[w];
      wrong_sign[w] += weights[w] * tail;
      within[w] += weights[w] * (1 - below - above);
    }
  }
  for (const std::size_t w : {0u, 1u}) {
    const double whole = total(mass[w]);
    made.wrong_sign[w] = total(wrong_sign[w]) / whole;
    made.within[w] = total(within[w]) / whole;
  }
}

// The model's verdict from a trial's sufficient figures.
class QuickVerdict {
 public:
  QuickVerdict(const SupposedStand& s, const RhoPrior& prior, double d)
      : df_(s.pairs ? s.trays - 1 : 2 * s.trays - 2), d_(d), level_(level / s.differences) {
    const double n = static_cast<double>(s.seeds), range = std::log1p(n);
    const double least = std::min(1.0, PriorByTrial::least_df / df_) / n;
    std::size_t filled = 0;
    const auto add = [&](double rho, double by_trial, double at_large) {
      const double f = 1 + (n - 1) * rho, spread = std::exp(-df_ / 2 * std::log(f));
      const std::size_t l = filled++ % 4;
      if (l == 0) nodes_.emplace_back();
      nodes_.back().per_f[l] = 1 / f;
      nodes_.back().per_sd[l] = 1 / std::sqrt(widened(s, n / f) * f / (2 * s.trays * n));
      nodes_.back().by_trial[l] = spread * by_trial;
      nodes_.back().at_large[l] = spread * at_large;
    };
    if (prior.is_fixed()) {
      add(prior.fixed, 1, 1);
      return;
    }
    const auto& weights = clenshaw_curtis_weights(points);
    const auto x = chebyshev_points(points);
    for (std::size_t k = 1; k <= points; ++k) {
      const double at = range / 2 * (1 + x[k]), rho = std::expm1(at) / n,
                   mass = weights[k] * std::exp(at);
      add(rho, mass * (1 - rho) * std::pow(rho + least, -PriorByTrial::power),
          mass * std::exp((prior.b - 1) * std::log1p(-rho)));
    }
  }

  double df() const { return df_; }

  // In pairs the model takes its variances from fits whose penalty draws every tray towards a half,
  // and the slope from means that are hardly drawn: by so much they are too wide. `worth`: of a
  // tray.
  static double widened(const SupposedStand& s, double worth) {
    if (!s.pairs) return 1;
    const double leverage = (1 + 1.0 / s.trays) / 2, whole = worth * s.trays;
    double sum = 0;
    for (const double p : {s.first, s.second}) {
      const double drawn = (worth * p + leverage / 2) / (worth + leverage);
      const double mean = (whole * p + 0.5) / (whole + 1);
      sum += drawn * (1 - drawn) / (mean * (1 - mean)) / 2;
    }
    return sum;
  }

  // t and s: difference and sum of the angles; misfit: Pearson's chi-squared at rho 0.
  StandClaim judge(double t, double s, double misfit) const {
    const double room = std::sin(std::clamp(s, 0.0, std::numbers::pi));
    // D = sin s sin t: where it is d, or beyond reach.
    const double edge = room > d_ ? std::asin(d_ / room) : std::numbers::pi / 2;
    TwoChances found;
    find_chances(nodes_, t, edge, misfit, found);
    if (2 * std::max(found.wrong_sign[0], found.wrong_sign[1]) <= level_)
      return t > 0 ? StandClaim::more : StandClaim::fewer;
    return std::min(found.within[0], found.within[1]) >= 1 - level_ ? StandClaim::neither
                                                                    : StandClaim::none;
  }

 private:
  double df_, d_, level_;
  std::vector<FourNodes> nodes_;
};

}  // namespace

StandOutlook outlook(const SupposedStand& supposed, const RhoPrior& prior, double d, int trials,
                     std::uint64_t seed) {
  check(supposed, d, trials);
  Random random(seed);
  StandOutlook made;
  std::vector<PlacedUnit> units;
  for (int i = 0; i < trials; ++i) {
    units.clear();
    for (int j = 0; j < supposed.trays; ++j)
      for (const int treatment : {1, 0}) {
        const double p = treatment == 1 ? supposed.first : supposed.second;
        units.push_back({treatment, supposed.pairs ? j : 0,
                         random.beta_binomial(supposed.seeds, p, supposed.rho), supposed.seeds});
      }
    const auto one = contrast(StandModel(units, 2, prior), 1, 0, d);
    // Of several differences the first step of Holm's.
    const std::vector<StandContrast> together(static_cast<std::size_t>(supposed.differences), one);
    count(made, claim_together(together).front().claim, 1.0 / trials);
  }
  return made;
}

StandOutlook quick_outlook(const SupposedStand& supposed, const RhoPrior& prior, double d,
                           int trials, std::uint64_t seed) {
  check(supposed, d, trials);
  const QuickVerdict verdict(supposed, prior, d);
  if (verdict.df() < 1) return {0, 0, 0, 1};
  Random random(seed);
  StandOutlook made;
  const double n = static_cast<double>(supposed.seeds), f = 1 + (n - 1) * supposed.rho;
  const double sd = std::sqrt(f / (2 * supposed.trays * n));
  const double first = angle_of(supposed.first), second = angle_of(supposed.second);
  for (int i = 0; i < trials; ++i) {
    const double t = first - second + sd * random.normal(),
                 s = first + second + sd * random.normal();
    count(made, verdict.judge(t, s, 2 * f * random.gamma(verdict.df() / 2)), 1.0 / trials);
  }
  return made;
}

TraysNeeded trays_needed(const StandModel& model, int first, int second, const RhoPrior& prior,
                         double d, int differences, double chance_wanted, std::uint64_t seed) {
  if (!(chance_wanted > 0 && chance_wanted < 1))
    throw std::domain_error("the chance wanted must lie between 0 and 1");
  SupposedStand supposed;
  const auto mean = [&](int treatment) {
    const double told = model.mean(treatment);  // refuses a treatment without units
    double angle = 0;
    for (const auto& node : model.nodes())
      angle += node.by_trial * node.angle[static_cast<std::size_t>(treatment)];
    const double s = std::sin(angle);
    // All up or nothing up: as the penalty has it.
    return told > 0 && told < 1 ? told : s * s;
  };
  supposed.first = mean(first);
  supposed.second = mean(second);
  supposed.rho = model.rho_at_large();
  supposed.differences = differences;
  std::vector<std::int64_t> sown;
  std::size_t strata = 0;
  const auto& layout = model.layout();
  for (std::size_t b = 0; b < layout.strata(); ++b) strata += layout.share[b] > 0 ? 1U : 0U;
  for (const auto& cell : layout.cells)
    for (const auto& unit : cell.counts) sown.push_back(unit.sown);
  std::nth_element(sown.begin(), sown.begin() + static_cast<std::ptrdiff_t>(sown.size() / 2),
                   sown.end());
  supposed.seeds = sown[sown.size() / 2];
  supposed.pairs = strata >= 2;

  TraysNeeded made;
  made.pairs = supposed.pairs;
  made.most_tried = layouts.back();
  made.first = supposed.first;
  made.second = supposed.second;
  made.rho = supposed.rho;
  made.seeds = supposed.seeds;
  // The first layout, by halving, that tells often enough.
  std::size_t low = 0, high = layouts.size();
  while (low < high) {
    const std::size_t middle = (low + high) / 2;
    supposed.trays = layouts[middle];
    const double told = quick_outlook(supposed, prior, d, quick_trials, seed).told();
    if (told >= chance_wanted) {
      high = middle;
      made.trays = supposed.trays;
      made.chance = told;
    } else {
      low = middle + 1;
      if (!made.trays) made.chance = told;
    }
  }
  return made;
}

}  // namespace plumule::stats
