// What the figures, tests and indices of the answers mean: one entry a thing, kept as data in the
// words_*.cpp files beside this one.
#pragma once

#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "records/hint.hpp"

namespace plumule::analysis {

struct Explanation {
  std::string_view word;     // as an answer names it
  std::string_view title;    // in a few words
  std::string_view meaning;  // three sentences at most, for a grower
  std::string_view formula;  // empty where there is none to give
  std::string_view unit;
  std::string_view assumes;
  std::string_view misleads;  // when
  std::string_view source;    // with "from memory" where the paper was not seen
  std::string_view also;      // other names in answers, blank between: "lower upper"
  // What a front end adds at the end of that text, which then has no full stop; none: nothing.
  records::Advice after_meaning = records::Advice::none;
  records::Advice after_misleads = records::Advice::none;
  records::Advice after_source = records::Advice::none;
};

// By word.
std::vector<const Explanation*> explanations();

struct Theme {
  std::string_view name;
  std::span<const Explanation> entries;
};

// The entries by theme, as one learns them: what is kept first, the tests last.
std::vector<Theme> explained_themes();

// The entry of a word or of one of its other names. It may be typed as a screen shows it, whatever
// its case: '-', '_' and blanks between its parts are alike; a comma, what stands in parentheses
// and figures by themselves ("95 %") do not count; and of "difference, newcombe" one part is
// enough. Null where there is none.
const Explanation* explain(std::string_view word);

// Entries whose word, other names or title hold it, at most `most`: what may have been meant.
std::vector<const Explanation*> explained_near(std::string_view word, std::size_t most);

// Every word and other name.
std::vector<std::string> explained_words();

// The entries of each theme.
std::span<const Explanation> words_of_what_is_kept();
std::span<const Explanation> words_of_the_record();
std::span<const Explanation> words_of_the_stand();
std::span<const Explanation> words_of_chance();
std::span<const Explanation> words_of_days();
std::span<const Explanation> words_of_models();
std::span<const Explanation> words_of_comparison();
std::span<const Explanation> words_of_tests();
std::span<const Explanation> words_of_decisions();
std::span<const Explanation> words_of_crops();

}  // namespace plumule::analysis
