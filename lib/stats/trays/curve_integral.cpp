// A probability is the integral, along the curve of equal contrast, of the second's density times
// the share of the first above: both from one series in two variables.
#include "stats/trays/curve_integral.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <vector>

#include "stats/numeric/adaptive_integral.hpp"
#include "stats/numeric/chebyshev.hpp"

namespace plumule::stats {
namespace {

// T_0 .. T_(n-1) at t.
void fill_terms(double t, std::vector<double>& terms) {
  terms[0] = 1;
  terms[1] = t;
  for (std::size_t k = 2; k < terms.size(); ++k) terms[k] = 2 * t * terms[k - 1] - terms[k - 2];
}

// Chebyshev terms. Rows: the second's density; columns: the share of the first above.
class JointSeries {
 public:
  JointSeries(std::span<const double> joint, std::size_t first_points)
      : rows_(joint.size() / first_points),
        columns_(first_points + 1),
        terms_(rows_ * columns_),
        terms1_(columns_),
        terms2_(rows_) {
    for (std::size_t i = 0; i < rows_; ++i) {
      auto above =
          integrated_series(chebyshev_series(joint.subspan(i * first_points, first_points)));
      const double all = series_at(above, 1);
      for (std::size_t k = 0; k < columns_; ++k) terms_[i * columns_ + k] = -above[k];
      terms_[i * columns_] += all;
    }
    std::vector<double> column(rows_);
    for (std::size_t k = 0; k < columns_; ++k) {
      for (std::size_t i = 0; i < rows_; ++i) column[i] = terms_[i * columns_ + k];
      const auto series = chebyshev_series(column);
      for (std::size_t i = 0; i < rows_; ++i) terms_[i * columns_ + k] = series[i];
    }
    // High terms of both are negligible together: each row ends where nothing of note follows.
    for (std::size_t i = 0; i < rows_; ++i) {
      std::size_t length = columns_;
      while (length > 1 && std::fabs(terms_[i * columns_ + length - 1]) < 1e-9) --length;
      lengths_.push_back(length);
    }
  }

  double at(double t1, double t2) {
    fill_terms(t1, terms1_);
    fill_terms(t2, terms2_);
    double sum = 0;
    for (std::size_t i = 0; i < rows_; ++i)
      sum += terms2_[i] * dot({terms_.data() + i * columns_, lengths_[i]}, terms1_);
    return sum;
  }

  // Share of the second below t2.
  double second_below(double t2) const {
    std::vector<double> density(rows_);
    for (std::size_t i = 0; i < rows_; ++i)
      for (std::size_t k = 0; k < columns_; ++k)
        density[i] += terms_[i * columns_ + k] * (k % 2 == 0 ? 1 : -1);  // all of the first: t = -1
    return series_at(integrated_series(density), t2);
  }

 private:
  std::size_t rows_, columns_;
  std::vector<double> terms_, terms1_, terms2_;
  std::vector<std::size_t> lengths_;
};

}  // namespace

double above_by_curve(Contrast contrast, double value, const AngleMap& first,
                      const AngleMap& second, std::size_t first_points,
                      std::span<const double> joint) {
  JointSeries series(joint, first_points);
  const ContrastCurve curve(contrast, value);
  const auto density = [&](double s) {
    const auto point = curve.at(s);
    const double t2 = second.place(point.phi2);
    return series.at(first.place(point.phi1), t2) * point.slope2 / second.angle_and_slope(t2).slope;
  };
  // From where the second's density begins to where it, or the first's share above, ends; split
  // where either is narrowest.
  const double from = curve.at_phi2(second.angle(-1));
  const double to = std::min(curve.at_phi2(second.angle(1)), curve.at_phi1(first.angle(1)));
  std::array<double, 4> cut = {
      from, std::clamp(curve.at_phi1(first.centre), from, std::max(from, to)),
      std::clamp(curve.at_phi2(second.centre), from, std::max(from, to)), to};
  std::sort(cut.begin(), cut.end() - 1);
  double sum = series.second_below(second.place(curve.always_above_below()));
  if (to > from)
    for (std::size_t i = 0; i + 1 < cut.size(); ++i)
      sum += adaptive_integral(density, cut[i], cut[i + 1], 1e-7);  // the pair errs by far less
  return std::clamp(sum, 0.0, 1.0);
}

}  // namespace plumule::stats
