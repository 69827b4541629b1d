// See the header.
#include "stats/proportions/stratified.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "stats/numeric/distributions.hpp"
#include "stats/proportions/margin_fit.hpp"

namespace plumule::stats {
namespace {

double up(const TwoByTwo& t) { return t.first.x() + t.second.x(); }

// Both groups sown, and neither nothing nor everything up.
bool tells(const TwoByTwo& t) {
  return t.first.n() > 0 && t.second.n() > 0 && up(t) > 0 && up(t) < t.total();
}

}  // namespace

std::optional<ChiSquaredTest> cochran_mantel_haenszel(std::span<const TwoByTwo> strata,
                                                      bool correction) {
  double off = 0, variance = 0;
  for (const TwoByTwo& t : strata) {
    if (!tells(t) || t.total() <= 1) continue;
    const double n = t.total(), m = up(t);
    off += t.first.x() - t.first.n() * m / n;
    variance += t.first.n() / n * t.second.n() / n * m * (n - m) / (n - 1);
  }
  if (!(variance > 0)) return std::nullopt;
  const double distance = std::max(0.0, std::fabs(off) - (correction ? 0.5 : 0.0));
  const double chi_squared = distance * distance / variance;
  return ChiSquaredTest{chi_squared, 1, chi_squared_upper(chi_squared, 1)};
}

CommonOddsRatio mantel_haenszel_odds_ratio(std::span<const TwoByTwo> strata, double level) {
  const double z = normal_deviate(level, Side::both);
  double r = 0, s = 0, pr = 0, ps_qr = 0, qs = 0;
  for (const TwoByTwo& t : strata) {
    if (!tells(t)) continue;
    const double n = t.total();
    const double rk = t.first.x() * t.second.failures() / n,
                 sk = t.first.failures() * t.second.x() / n;
    const double pk = (t.first.x() + t.second.failures()) / n;
    const double qk = (t.first.failures() + t.second.x()) / n;
    r += rk;
    s += sk;
    pr += pk * rk;
    ps_qr += pk * sk + qk * rk;
    qs += qk * sk;
  }
  CommonOddsRatio result{r / s, {}, {}};
  if (!(r > 0 && s > 0)) return result;
  const double se = std::sqrt(pr / (2 * r * r) + ps_qr / (2 * r * s) + qs / (2 * s * s));
  result.log_se = se;
  result.interval = Interval{method::mantel_haenszel, level, result.estimate * std::exp(-z * se),
                             result.estimate * std::exp(z * se)};
  return result;
}

std::optional<OddsRatioAgreement> breslow_day(std::span<const TwoByTwo> strata) {
  const double common = mantel_haenszel_odds_ratio(strata).estimate;
  if (!(common > 0 && std::isfinite(common))) return std::nullopt;
  double chi_squared = 0, off = 0, variance = 0;
  int counted = 0;
  for (const TwoByTwo& t : strata) {
    if (!tells(t)) continue;
    const MarginFit fit = fit_margins(t, common);
    const double distance = t.first.x() - fit.x1;
    chi_squared += distance * distance * fit.information();
    off += distance;
    variance += 1 / fit.information();
    ++counted;
  }
  if (counted < 2) return std::nullopt;
  const double df = counted - 1, tarone = std::max(0.0, chi_squared - off * off / variance);
  return OddsRatioAgreement{{chi_squared, df, chi_squared_upper(chi_squared, df)},
                            {tarone, df, chi_squared_upper(tarone, df)},
                            counted};
}

}  // namespace plumule::stats
