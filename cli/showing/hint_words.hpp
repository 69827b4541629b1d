// Hints of the library in the words of the command line: what to type.
#pragma once

#include <string>
#include <vector>

#include "records/hint.hpp"
#include "records/refused.hpp"

namespace plumule::cli {

// "Two died? K3=12-2."; of Advice::none empty. Of an advice that only goes on with a sentence of
// facts, its end: "; to correct it: plumule amend K3 --on 2026-04-10 =N".
std::string in_words(const records::Hint& hint);
// The facts with the hints after them.
std::string with_hints(std::string facts, const std::vector<records::Hint>& hints);
std::string in_words(const records::Refusal& refusal);
std::string in_words(const records::Hinted& trouble);

}  // namespace plumule::cli
