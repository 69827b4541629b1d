// Weighted sums of logarithms, as every log likelihood of grouped counts ends in one.
#pragma once

#include <cstddef>
#include <vector>

namespace plumule::stats {

// Takes pairs and gives sum weight log(value). Each logarithm is within 3e-16 of itself or of 1,
// whichever is larger. Values must be 2.3e-308 (no subnormals) to infinity, infinity not included.
class LogSum {
 public:
  void reserve(std::size_t pairs) {
    weights_.reserve(pairs + 3);  // filled up to whole fours
    values_.reserve(pairs + 3);
  }
  void clear() {
    weights_.clear();
    values_.clear();
  }
  void add(double weight, double value) {
    weights_.push_back(weight);
    values_.push_back(value);
  }
  double sum();

 private:
  std::vector<double> weights_, values_;
};

}  // namespace plumule::stats
