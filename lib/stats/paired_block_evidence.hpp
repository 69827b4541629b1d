// Evidence that two percentages differ from seed sown in blocks set beforehand, valid at any stop.
#pragma once

#include <cstdint>
#include <span>
#include <vector>

namespace plumule::stats {

// One block: up_a of sown_a and up_b of sown_b.
struct PairedBlock {
  std::int64_t up_a = 0, sown_a = 0, up_b = 0, sown_b = 0;
};

// log E of one block for a fixed pair of probabilities in (0, 1): binomial at (theta_a, theta_b)
// against binomial at their mean weighted by seeds. Its mean is <= 1 under any common probability.
// (Turner, Ly & Grunwald 2024, J. Stat. Plan. Inference 230.)
double log_block_evidence(const PairedBlock& block, double theta_a, double theta_b);

struct PairedEvidence {
  std::vector<double> log_e;  // after each block
  double anytime_p = 1;       // 1 / the largest e so far, at most 1
};

// The product over blocks, each with the (theta_a, theta_b) learnt from the blocks before it:
// (successes + gamma) / (seeds + 2 gamma). gamma > 0 (0.18 is the published default, scaled by the
// block's seeds for b). Throws std::domain_error for blocks that cannot be.
PairedEvidence paired_block_evidence(std::span<const PairedBlock> blocks, double gamma_a,
                                     double gamma_b);

}  // namespace plumule::stats
