// See the header for what is exact here and what is not.
#include "stats/stand/plan.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <stdexcept>
#include <vector>

#include "stats/numeric/chebyshev.hpp"
#include "stats/numeric/distributions.hpp"
#include "stats/numeric/random.hpp"
#include "stats/numeric/wide_normal.hpp"
#include "stats/stand/claims.hpp"

namespace plumule::stats {
namespace {

constexpr std::array layouts = {2, 3, 4, 5, 6, 8, 10, 12, 16, 20, 24, 32, 48};
constexpr double level = 0.05;
constexpr std::size_t points = 24;

void check(const SupposedStand& s, double d) {
  if (!(s.first >= 0 && s.first <= 1 && s.second >= 0 && s.second <= 1))
    throw std::domain_error("a supposed percentage must lie between 0 and 100 %");
  if (!(s.rho >= 0 && s.rho < 1)) throw std::domain_error("a supposed rho must lie in [0, 1)");
  if (s.trays < 1 || s.seeds < 1 || s.seeds > 1'000'000'000 || s.differences < 1)
    throw std::domain_error("a trial to suppose needs trays and seeds");
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

// Four values of rho, and what each weighs by this trial's rho and by trays at large.
struct alignas(sizeof(Four)) FourNodes {
  Four per_f = {1, 1, 1, 1}, per_sd = {1, 1, 1, 1};  // 1 / f, and of the angles' difference
  Four whole[2] = {}, weight[2] = {};                // before the misfit is known, and with it
};

PLUMULE_WIDE
void weigh(std::vector<FourNodes>& nodes, double misfit) {
  Four mass[2] = {};
  for (FourNodes& four : nodes) {
    Four likely = -misfit / 2 * four.per_f;
    to_exp(likely);
    for (const std::size_t w : {0u, 1u}) {
      four.weight[w] = likely * four.whole[w];
      mass[w] += four.weight[w];
    }
  }
  for (const std::size_t w : {0u, 1u}) {
    const double each = 1 / total(mass[w]);
    for (FourNodes& four : nodes) four.weight[w] *= each;
  }
}

// The chance that angles which came out t apart are truly the other way round: of the two weighings
// the larger.
PLUMULE_WIDE
double wrong_sign(const std::vector<FourNodes>& nodes, double t) {
  Four sum[2] = {};
  for (const FourNodes& four : nodes) {
    Four tail, unused;
    normal_at(-t * four.per_sd, tail, unused);
    for (const std::size_t w : {0u, 1u}) sum[w] += four.weight[w] * tail;
  }
  return std::max(total(sum[0]), total(sum[1]));
}

// That they are truly more than `edge` apart.
PLUMULE_WIDE
double beyond(const std::vector<FourNodes>& nodes, double t, double edge) {
  Four sum[2] = {};
  for (const FourNodes& four : nodes) {
    Four below, above, unused;
    normal_at((-edge - t) * four.per_sd, below, unused);
    normal_at((t - edge) * four.per_sd, above, unused);
    for (const std::size_t w : {0u, 1u}) sum[w] += four.weight[w] * (below + above);
  }
  return std::max(total(sum[0]), total(sum[1]));
}

// Where f, which falls or rises through 0 between low and high, crosses it, nearly to a thousandth:
// false position with the Illinois rule, in three or four steps where TOMS 748 to all digits takes
// ten.
template <class Function>
double crossing(Function&& f, double low, double f_low, double high, double f_high) {
  double x = high;
  for (int i = 0; i < 12; ++i) {
    const double before = x;
    x = (low * f_high - high * f_low) / (f_high - f_low);
    if (std::fabs(x - before) < 3e-3 * x) break;
    const double here = f(x);
    if ((here > 0) == (f_high > 0)) {
      high = x;
      f_high = here;
      f_low /= 2;
    } else {
      low = x;
      f_low = here;
      f_high /= 2;
    }
  }
  return x;
}

// Gauss and Hermite's rules for the standard normal (Abramowitz & Stegun 1964, 25.4.46).
struct NormalPoint {
  double z, weight;
};
constexpr std::array<NormalPoint, 2> two_points = {{{-1, 0.5}, {1, 0.5}}};
constexpr std::array<NormalPoint, 5> five_points = {{{-2.8569700138728056, 0.011257411327720689},
                                                     {-1.3556261799742659, 0.22207592200561264},
                                                     {0, 0.53333333333333333},
                                                     {1.3556261799742659, 0.22207592200561264},
                                                     {2.8569700138728056, 0.011257411327720689}}};

// Chi-squared where the standard normal is z (Wilson & Hilferty 1931).
double chi_squared_at(double z, double df) {
  const double each = 2 / (9 * df), root = 1 - each + z * std::sqrt(each);
  return df * std::pow(std::max(root, 0.0), 3);
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
      nodes_.back().whole[0][l] = spread * by_trial;
      nodes_.back().whole[1][l] = spread * at_large;
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

  // Pearson's chi-squared at rho 0, which what follows goes by.
  void take(double misfit) {
    weigh(nodes_, misfit);
    from_ = claims_from();
  }
  // The angles' difference from which on, either way, one is claimed.
  double from() const { return from_; }

  // That at which D = sin s sin t is d, or beyond reach; s: the sum of the angles.
  double edge(double s) const {
    const double room = std::sin(std::clamp(s, 0.0, std::numbers::pi));
    return room > d_ ? std::asin(d_ / room) : std::numbers::pi / 2;
  }

  // Up to which neither is said, 0 where it never is.
  double alike_up_to(double edge) const {
    const auto excess = [&](double t) { return std::log(beyond(nodes_, t, edge) / level_); };
    const double at_none = excess(0);
    if (at_none >= 0) return 0;
    return std::min(crossing(excess, 0, at_none, edge, excess(edge)), from_);
  }

 private:
  // In t squared the logarithm of a normal's tail is nearly a straight line.
  double claims_from() const {
    const auto excess = [&](double square) {
      return std::log(2 * wrong_sign(nodes_, std::sqrt(square)) / level_);
    };
    double low = 0, high = from_ > 0 ? from_ * from_ : 0.01;
    double f_low = excess(low), f_high = excess(high);
    while (f_high > 0) {
      low = high;
      f_low = f_high;
      high *= 2;
      f_high = excess(high);
    }
    return std::sqrt(crossing(excess, low, f_low, high, f_high));
  }

  double df_, d_, level_, from_ = 0;
  std::vector<FourNodes> nodes_;
};

}  // namespace

StandOutlook outlook(const SupposedStand& supposed, const RhoPrior& prior, double d, int trials,
                     std::uint64_t seed) {
  check(supposed, d);
  if (trials < 1) throw std::domain_error("a number of trials is needed");
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

StandOutlook quick_outlook(const SupposedStand& supposed, const RhoPrior& prior, double d) {
  check(supposed, d);
  QuickVerdict verdict(supposed, prior, d);
  if (verdict.df() < 1) return {0, 0, 0, 1};
  StandOutlook made;
  const double n = static_cast<double>(supposed.seeds), f = 1 + (n - 1) * supposed.rho;
  const double sd = std::sqrt(f / (2 * supposed.trays * n));
  const double first = angle_of(supposed.first), second = angle_of(supposed.second);
  const auto below = [&](double t) { return normal_lower((t - (first - second)) / sd); };
  for (const auto& misfit : five_points) {
    verdict.take(f * chi_squared_at(misfit.z, verdict.df()));
    made.more += misfit.weight * (1 - below(verdict.from()));
    made.fewer += misfit.weight * below(-verdict.from());
    for (const auto& sum : two_points) {
      const double edge = verdict.edge(first + second + sd * sum.z);
      // Beyond the edge neither is never said: treatments far apart need no more.
      if (below(edge) - below(-edge) < 1e-4) continue;
      const double alike = verdict.alike_up_to(edge);
      made.neither += misfit.weight * sum.weight * (below(alike) - below(-alike));
    }
  }
  made.too_small = 1 - made.told();
  return made;
}

TraysNeeded trays_needed(const StandModel& model, int first, int second, const RhoPrior& prior,
                         double d, int differences, double chance_wanted) {
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
    const double told = quick_outlook(supposed, prior, d).told();
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
