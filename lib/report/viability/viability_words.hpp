// The verdict on a lot in a grower's words, with its reasons.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "analysis/lots/lot_viability.hpp"
#include "report/parts/terminal.hpp"

namespace plumule::report {

std::string_view word(analysis::ViabilityCode code);  // sow-as-usual, sow-thicker, test-more, ...
std::string_view word(analysis::TestUse use);         // counted, older, treated, ...

// As a percentage that is never 0 or 100: no test makes a chance so, however near a double comes.
std::string chance(double p);

// "twice", "1.5 times".
std::string times_words(double times);

// One or two sentences, or where tests clash what they gave and then these.
std::string verdict_words(const analysis::LotViability& finding, HintWords hints);
// Of tests that were cut short, or that clash, and of nicking: what has to be known at once.
std::vector<std::string> plain_reasons(const analysis::LotViability& finding);
// These, then why, and what it costs to be wrong: a sentence each.
std::vector<std::string> verdict_reasons(const analysis::LotViability& finding);

}  // namespace plumule::report
