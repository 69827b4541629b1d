// What to do with a lot, by the chance that it meets its standard: sow as usual or thicker, nick
// the seed, test more, replace.
#pragma once

#include "analysis/lots/lot_tests.hpp"
#include "analysis/lots/lot_viability.hpp"

namespace plumule::analysis {

// Of a lot whose stand, standard and hard seed are already known. Where some is hard, what comes up
// now and what is alive are judged apart, by the same rules: too few of it come up but enough are
// alive, and it is the coat that wants mending, not the lot. Hard seed is taken to come up once
// nicked (common practice, no source). While tests clash it is to test more, or to wait for a test
// that is running, and never to replace.
ViabilityVerdict lot_verdict(const LotViability& lot, const LotTests& tests,
                             const ViabilityQuestion& question);

}  // namespace plumule::analysis
