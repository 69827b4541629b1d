// Evidence from blocks (its values are checked in the anytime table): its start, labels, refusals.
#include "stats/paired_block_evidence.hpp"

#include <stdexcept>
#include <vector>

#include "support/close.hpp"

using namespace plumule::stats;

TEST_CASE("the first block says nothing, and labels exchanged say the same") {
  const std::vector<PairedBlock> blocks{{9, 10, 5, 10}, {8, 10, 6, 10}, {10, 10, 4, 10}};
  std::vector<PairedBlock> turned;
  for (const auto& b : blocks) turned.push_back({b.up_b, b.sown_b, b.up_a, b.sown_a});
  const auto one = paired_block_evidence(blocks, 0.18, 0.18);
  const auto other = paired_block_evidence(turned, 0.18, 0.18);
  CHECK_WITHIN(one.log_e[0], 0, 1e-12);
  CHECK_CLOSE(one.log_e[2], other.log_e[2], 1e-12);
  CHECK(one.anytime_p < 1);
  CHECK(paired_block_evidence({}, 0.18, 0.18).anytime_p == 1);
}

TEST_CASE("blocks and probabilities that cannot be are refused") {
  const std::vector<PairedBlock> over{{11, 10, 5, 10}}, empty{{0, 0, 5, 10}}, fine{{1, 2, 1, 2}};
  CHECK_THROWS_AS(paired_block_evidence(over, 0.18, 0.18), std::domain_error);
  CHECK_THROWS_AS(paired_block_evidence(empty, 0.18, 0.18), std::domain_error);
  CHECK_THROWS_AS(paired_block_evidence(fine, 0, 0.18), std::domain_error);
  CHECK_THROWS_AS(log_block_evidence(fine[0], 1, 0.5), std::domain_error);
}
