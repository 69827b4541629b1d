// See the header.
#include "stats/proportions/tally.hpp"

#include <cmath>
#include <stdexcept>

namespace plumule::stats {

Tally::Tally(Checked, double x, double n) : x_(x), n_(n) {
  if (!(std::isfinite(n) && x >= 0 && x <= n))
    throw std::domain_error("a tally needs 0 <= up <= sown, both finite numbers");
}

bool Tally::whole() const { return x_ == std::floor(x_) && n_ == std::floor(n_); }

}  // namespace plumule::stats
