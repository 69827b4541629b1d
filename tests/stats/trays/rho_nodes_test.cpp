// The nodes of rho integrate the prior itself.
#include "stats/trays/rho_nodes.hpp"

#include <cmath>

#include "support/close.hpp"

using namespace plumule::stats;

TEST_CASE("the nodes hold the whole prior and its mean") {
  for (const double b : {49.0, 24.0, 14.0, 1.0, 0.1})
    for (const std::int64_t n : {1, 50, 1000000}) {
      const auto prior = rho_from_beta(b);
      double mass = 0, mean = 0;
      for (const auto& node : make_rho_nodes(prior, whole_rho_range(prior, n), 0.4)) {
        mass += std::exp(node.log_weight);
        mean += std::exp(node.log_weight) * node.rho;
        if (node.rho < 0.999) CHECK_CLOSE(node.theta * (1 - node.rho), node.rho, 1e-9);
      }
      CHECK_CLOSE(mass, 1, 1e-6);
      CHECK_CLOSE(mean, rho_mean(prior), 1e-5);
    }
}

TEST_CASE("a fixed rho is one node") {
  const auto prior = rho_fixed_at(0.2);
  const auto nodes = make_rho_nodes(prior, whole_rho_range(prior, 50), 0.4);
  REQUIRE(nodes.size() == 1);
  CHECK(nodes[0].rho == 0.2);
  CHECK_CLOSE(nodes[0].theta, 0.25, 1e-12);
  CHECK(nodes[0].log_weight == 0);
}
