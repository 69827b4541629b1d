// Chebyshev series on [-1, 1] through the points cos(pi k / N): the quadrature behind the
// posteriors. Boost makes such series only through FFTW, and evaluates one series at a time.
#pragma once

#include <cstddef>
#include <span>
#include <vector>

namespace plumule::stats {

// cos(pi k / N) for k = 0 .. N, descending from 1 to -1. N >= 1.
std::vector<double> chebyshev_points(std::size_t n);

// Coefficients c_0 .. c_N of the series sum c_k T_k that passes through values at those points.
std::vector<double> chebyshev_series(std::span<const double> values);

// Series of the integral from -1 (value 0 at -1); one term longer.
std::vector<double> integrated_series(std::span<const double> series);

// Value at t in [-1, 1] by Clenshaw's recurrence.
double series_at(std::span<const double> series, double t);

// Sum of a_i b_i over the shorter of the two.
double dot(std::span<const double> a, std::span<const double> b);

// Weights w_k with sum w_k f(cos(pi k / N)) = integral of f over [-1, 1] (Clenshaw & Curtis 1960).
// The reference holds until the next call in the same thread.
const std::vector<double>& clenshaw_curtis_weights(std::size_t n);

}  // namespace plumule::stats
