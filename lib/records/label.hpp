// Labels of sowings, lots, treatments, trials and batches: what one may be made of, and their
// order.
#pragma once

#include <string>
#include <string_view>

namespace plumule::records {

// Letters, digits, '.', '_' and '-', beginning with a letter or digit; at most 64 long.
bool is_label(std::string_view text);

// Why a text is no label, as a clause: `"A 1" is no label: a label is letters, digits ...`.
std::string label_trouble(std::string_view text);

// The order of labels on the bench: numbers within them by their value (A2 before A10), letters
// without regard to case.
bool label_before(std::string_view a, std::string_view b);

// The same label but for case (ASCII; labels hold nothing else).
bool same_label(std::string_view a, std::string_view b);

}  // namespace plumule::records
