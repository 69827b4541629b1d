// What to do with a lot: sow as usual or thicker, with a fresh packet at hand, nick the seed, test
// more, replace.
#pragma once

#include <optional>

#include "analysis/lots/lot_tests.hpp"
#include "analysis/lots/lot_viability.hpp"
#include "stats/ageing/aged_lot.hpp"

namespace plumule::analysis {

// What is believed of the lot's seed at any age: of what comes up, and with the hard ones.
struct LotBelief {
  std::optional<stats::AgedLot> up, alive;
};

// Of a lot whose stand, standard, hard seed and stock are already known: the least expected loss of
// the season (stats/ageing/old_seed_choice.hpp), on the day asked about. Of tests in soil `replace`
// is never said of a row; where little is alive by them, a towel is asked for. Where some seed is
// hard, what comes up now and what is alive are judged apart: too few of it come up but enough are
// alive, and it is the coat that wants mending, not the lot. Hard seed is taken to come up once
// nicked (common practice, no source). While tests clash it is to test more, or to wait for a test
// that is running, and never to replace.
ViabilityVerdict lot_verdict(const LotViability& lot, const LotTests& tests,
                             const LotBelief& belief, const ViabilityQuestion& question);

}  // namespace plumule::analysis
