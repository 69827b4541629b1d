// The dose curve: three doses in closed form, a plain search, R's line, statuses.
#include "stats/proportions/dose_curve.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <stdexcept>
#include <utility>
#include <vector>

#include "stats/numeric/distributions.hpp"
#include "support/close.hpp"

using namespace plumule::stats;

namespace {

double logit(double p) { return std::log(p / (1 - p)); }

double log_likelihood(const std::vector<DoseGroup>& sowings, double b0, double b1, double b2) {
  double sum = 0;
  for (const DoseGroup& g : sowings) {
    const double eta = b0 + b1 * g.dose + b2 * g.dose * g.dose;
    sum -=
        g.tally.x() * std::log1p(std::exp(-eta)) + g.tally.failures() * std::log1p(std::exp(eta));
  }
  return sum;
}

const std::vector<DoseGroup> peaked{{0, {30, 50}},  {6, {40, 50}},  {12, {45, 50}},
                                    {24, {44, 50}}, {36, {33, 50}}, {48, {15, 50}}};

}  // namespace

TEST_CASE("three doses fix the quadratic: the observed logits and their variances") {
  const std::vector<DoseGroup> s{{0, {20, 50}}, {12, {40, 50}}, {24, {28, 50}}};
  const DoseCurve c = fit_dose_curve(s);
  REQUIRE(c.status == CurveStatus::ok);
  // Through three points: b2 = (y2 - 2 y1 + y0) / (2 h^2), b1 = (-y2 + 4 y1 - 3 y0) / (2 h).
  const double y0 = logit(0.4), y1 = logit(0.8), y2 = logit(0.56), h = 12;
  CHECK_CLOSE(c.coefficients[0], y0, 1e-9);
  CHECK_CLOSE(c.coefficients[1], (-y2 + 4 * y1 - 3 * y0) / (2 * h), 1e-9);
  CHECK_CLOSE(c.coefficients[2], (y2 - 2 * y1 + y0) / (2 * h * h), 1e-9);
  const double v0 = 1 / (50 * 0.24), v1 = 1 / (50 * 0.16), v2 = 1 / (50 * 0.56 * 0.44);
  CHECK_CLOSE(c.se(0), std::sqrt(v0), 1e-8);
  CHECK_CLOSE(c.se(1), std::sqrt(v2 + 16 * v1 + 9 * v0) / (2 * h), 1e-8);
  CHECK_CLOSE(c.se(2), std::sqrt(v2 + 4 * v1 + v0) / (2 * h * h), 1e-8);
  CHECK_CLOSE(c.covariance[5], (-v2 - 8 * v1 - 3 * v0) / (4 * h * h * h), 1e-8);
  CHECK(c.df == 0);
  CHECK_CLOSE(c.deviate, 1.959963984540054, 1e-12);
  CHECK_CLOSE(c.at(12), 0.8, 1e-9);
}

TEST_CASE("no small step from the fit is likelier") {
  const DoseCurve c = fit_dose_curve(peaked);
  REQUIRE(c.status == CurveStatus::ok);
  const auto& b = c.coefficients;
  const double top = log_likelihood(peaked, b[0], b[1], b[2]);
  CHECK_CLOSE(c.log_likelihood, top, 1e-11);
  for (const double h : {1e-2, 1e-4})
    for (int i = -1; i <= 1; ++i)
      for (int j = -1; j <= 1; ++j)
        for (int k = -1; k <= 1; ++k)
          CHECK(log_likelihood(peaked, b[0] + i * h * c.se(0), b[1] + j * h * c.se(1),
                               b[2] + k * h * c.se(2)) <= top + 1e-12);
  // Curvature of the likelihood by differences gives back the inverse of the covariance.
  const double s = c.se(2) / 50;
  const double curvature = (log_likelihood(peaked, b[0], b[1], b[2] + s) - 2 * top +
                            log_likelihood(peaked, b[0], b[1], b[2] - s)) /
                           (s * s);
  double information = 0;
  for (const DoseGroup& g : peaked)
    information += std::pow(g.dose, 4) * g.tally.n() * c.at(g.dose) * (1 - c.at(g.dose));
  CHECK_CLOSE(-curvature, information, 1e-4);
}

TEST_CASE("soaking too long shows as a peak with its interval") {
  const BestDose best = best_dose(peaked);
  CHECK(best.status == BestDoseStatus::peak);
  CHECK(best.dose > 12);
  CHECK(best.dose < 24);
  CHECK(best.interval.kind == FiellerKind::bounded);
  CHECK(best.interval.lower < best.dose);
  CHECK(best.interval.upper > best.dose);
  const DoseCurve c = fit_dose_curve(peaked);
  CHECK(c.at(best.dose) == best.fraction);
  CHECK(c.at(best.dose - 1) < best.fraction);
  CHECK(c.at(best.dose + 1) < best.fraction);
}

TEST_CASE("a steady rise has no best dose within what was tried") {
  const std::vector<DoseGroup> rise{{0, {10, 50}}, {6, {20, 50}}, {12, {31, 50}}, {24, {45, 50}}};
  CHECK(best_dose(rise).status == BestDoseStatus::no_peak);
  // Levelling off, four trays a dose: the curve turns down, but beyond the last dose.
  std::vector<DoseGroup> levelling;
  for (int tray = 0; tray < 4; ++tray)
    for (const auto& [dose, up] : {std::pair{0, 5}, {6, 40}, {12, 80}, {18, 92}})
      levelling.push_back({static_cast<double>(dose), {up, 100}});
  CHECK(best_dose(levelling).status == BestDoseStatus::outside_tried);
  CHECK(best_dose(levelling).dose > 18);
  const std::vector<DoseGroup> valley{{0, {45, 50}}, {6, {20, 50}}, {12, {22, 50}}, {24, {46, 50}}};
  CHECK(best_dose(valley).status == BestDoseStatus::no_peak);
}

TEST_CASE("trays that differ within a dose widen the errors") {
  std::vector<DoseGroup> even, uneven;
  for (const DoseGroup& g : peaked) {
    const double half = g.tally.x() / 2;
    even.push_back({g.dose, {half, 25}});
    even.push_back({g.dose, {half, 25}});
    uneven.push_back({g.dose, {std::max(0.0, half - 6), 25}});
    uneven.push_back({g.dose, {std::min(25.0, half + 6), 25}});
  }
  const DoseCurve a = fit_dose_curve(even), b = fit_dose_curve(uneven);
  CHECK(a.dispersion == 1);
  CHECK(b.dispersion > 2);
  CHECK(b.se(2) > 1.4 * a.se(2));
  CHECK(a.df == 9);
  CHECK_CLOSE(a.deviate, 2.262157163, 1e-9);  // t(0.975, 9), printed tables
  CHECK_CLOSE(b.dispersion, b.pearson / 9, 1e-13);
}

TEST_CASE("order of the sowings and unit of the dose are nothing") {
  const BestDose hours = best_dose(peaked);
  std::vector<DoseGroup> seconds(peaked.rbegin(), peaked.rend());
  for (DoseGroup& g : seconds) g.dose *= 3600;
  const BestDose other = best_dose(seconds);
  CHECK_CLOSE(other.dose / 3600, hours.dose, 1e-9);
  CHECK_CLOSE(other.interval.lower / 3600, hours.interval.lower, 1e-8);
  CHECK_CLOSE(other.fraction, hours.fraction, 1e-10);
}

TEST_CASE("each stratum has a height of its own, and the curve one shape") {
  const DoseCurve alone = fit_dose_curve(peaked);
  std::vector<DoseGroup> blocks;
  for (const DoseGroup& g : peaked) {
    blocks.push_back(g);
    // The same curve a height of 1.5 up.
    const double p = alone.at(g.dose), higher = 1 / (1 + (1 - p) / p * std::exp(-1.5));
    blocks.push_back({g.dose, {100 * higher, 100}, 7});
  }
  std::vector<DoseGroup> smooth;
  for (const DoseGroup& g : peaked) smooth.push_back({g.dose, {50 * alone.at(g.dose), 50}});
  for (std::size_t i = 0; i < blocks.size(); i += 2) blocks[i] = smooth[i / 2];
  const DoseCurve curve = fit_dose_curve(blocks);
  REQUIRE(curve.status == CurveStatus::ok);
  CHECK_CLOSE(curve.coefficients[1], alone.coefficients[1], 1e-8);
  CHECK_CLOSE(curve.coefficients[2], alone.coefficients[2], 1e-8);
  CHECK_CLOSE(curve.coefficients[0], alone.coefficients[0] + 1.0, 1e-8);  // two thirds of the seeds
  CHECK(curve.df == static_cast<double>(blocks.size()) - 4);
}

TEST_CASE("doses that lie on no parabola are told by the likelihood of a curve through them all") {
  const std::vector<DoseGroup> doubling{{0, {25, 100}}, {2, {60, 100}},  {4, {85, 100}},
                                        {8, {91, 100}}, {16, {80, 100}}, {32, {20, 100}}};
  double saturated = 0;
  for (const DoseGroup& g : doubling) {
    const double p = g.tally.fraction();
    saturated += g.tally.x() * std::log(p) + (g.tally.n() - g.tally.x()) * std::log(1 - p);
  }
  const double worse = saturated - fit_dose_curve(doubling).log_likelihood;
  CHECK_CLOSE(lack_of_fit_p(doubling), chi_squared_upper(2 * worse, 3), 1e-6);
  CHECK(lack_of_fit_p(doubling) < 0.01);
  std::vector<DoseGroup> parabola;
  const DoseCurve curve = fit_dose_curve(peaked);
  for (const DoseGroup& g : peaked) parabola.push_back({g.dose, {50 * curve.at(g.dose), 50}});
  CHECK(lack_of_fit_p(parabola) > 0.999);
  CHECK(lack_of_fit_p(std::vector<DoseGroup>(doubling.begin(), doubling.begin() + 3)) == 1);
}

TEST_CASE("what has no curve says why") {
  const auto status = [](std::vector<DoseGroup> s, int degree) {
    return fit_dose_curve(s, degree).status;
  };
  CHECK(status({}, 2) == CurveStatus::too_few_doses);
  CHECK(status({{0, {3, 9}}, {6, {4, 9}}}, 2) == CurveStatus::too_few_doses);
  CHECK(status({{0, {3, 9}}, {6, {4, 9}}}, 1) == CurveStatus::ok);
  CHECK(status({{0, {0, 9}}, {6, {0, 9}}, {12, {0, 9}}}, 2) == CurveStatus::separated);
  CHECK(status({{0, {0, 9}}, {6, {9, 9}}, {12, {9, 9}}}, 1) == CurveStatus::separated);
  CHECK(status({{0, {0, 9}}, {6, {9, 9}}, {12, {0, 9}}}, 2) == CurveStatus::separated);
  CHECK(status({{0, {0, 9}}, {6, {5, 9}}, {12, {9, 9}}}, 1) == CurveStatus::separated);
  CHECK(best_dose(std::vector<DoseGroup>{{0, {0, 9}}}).status == BestDoseStatus::no_curve);
  CHECK(std::isnan(fit_dose_curve(std::vector<DoseGroup>{}).at(3)));
  CHECK_THROWS_AS(fit_dose_curve(peaked, 7), std::domain_error);
  CHECK_THROWS_AS(fit_dose_curve(peaked, 2, 1), std::domain_error);
  CHECK_THROWS_AS(fit_dose_curve(std::vector<DoseGroup>{{std::nan(""), {1, 2}}}),
                  std::domain_error);
}
