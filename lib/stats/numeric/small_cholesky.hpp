// Cholesky's factor of a symmetric matrix, written out for the two or three parameters of an
// emergence fit, where a general one spends its time on finding out how small it is.
#pragma once

#include <Eigen/Dense>
#include <cmath>

namespace plumule::stats {

// A = L L^T of a matrix of fixed size; only its lower half is looked at.
template <int size>
class SmallCholesky {
 public:
  using Square = Eigen::Matrix<double, size, size>;
  using Vector = Eigen::Matrix<double, size, 1>;

  // False where A is not positive definite (or not a number); solve() then means nothing.
  bool factor(const Square& a) {
    for (int i = 0; i < size; ++i) {
      for (int j = 0; j < i; ++j) {
        double sum = a(i, j);
        for (int k = 0; k < j; ++k) sum -= lower_(i, k) * lower_(j, k);
        lower_(i, j) = sum * inverse_[j];
      }
      double sum = a(i, i);
      for (int k = 0; k < i; ++k) sum -= lower_(i, k) * lower_(i, k);
      if (!(sum > 0)) return false;
      inverse_[i] = 1 / std::sqrt(sum);
    }
    return true;
  }

  Vector solve(Vector b) const {
    for (int i = 0; i < size; ++i) {
      for (int k = 0; k < i; ++k) b[i] -= lower_(i, k) * b[k];
      b[i] *= inverse_[i];
    }
    for (int i = size; i-- > 0;) {
      for (int k = i + 1; k < size; ++k) b[i] -= lower_(k, i) * b[k];
      b[i] *= inverse_[i];
    }
    return b;
  }

  Square inverse(int /*n*/) const {
    Square made;
    for (int j = 0; j < size; ++j) made.col(j) = solve(Vector::Unit(j));
    return made;
  }

 private:
  Square lower_;
  Vector inverse_;  // of the diagonal
};

// Any number of parameters: Eigen's.
template <>
class SmallCholesky<Eigen::Dynamic> {
 public:
  bool factor(const Eigen::MatrixXd& a) {
    factor_.compute(a);
    return factor_.info() == Eigen::Success;
  }
  Eigen::VectorXd solve(const Eigen::VectorXd& b) const { return factor_.solve(b); }
  Eigen::MatrixXd inverse(int n) const { return factor_.solve(Eigen::MatrixXd::Identity(n, n)); }

 private:
  Eigen::LLT<Eigen::MatrixXd> factor_;
};

}  // namespace plumule::stats
