// Laying out a whole trial at once: lots by treatments by blocks, in an order drawn at random
// within each block, with labels made by a rule.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

namespace plumule::bench {

struct Layout {
  std::vector<std::string> lots;  // "" where none is recorded
  std::vector<std::string> treatments;
  std::vector<std::string> blocks;  // "" alone where there are none
  int trays = 1;                    // of each lot and treatment in each block
  std::string prefix;      // labels PREFIX1, PREFIX2 ... along the bench; "": a letter a block
  bool in_order = false;   // as listed, not drawn
  std::uint64_t draw = 0;  // the same number draws the same order, on every machine

  std::size_t places() const {
    return blocks.size() * static_cast<std::size_t>(trays) * lots.size() * treatments.size();
  }
};

struct Place {
  std::string label;
  std::string lot;
  std::string treatment;
  std::string block;
};

// In bench order. `taken` are labels of open sowings: a block's letter is one that none of them
// begins with, followed by digits; with a prefix, numbers go on after the highest there.
std::vector<Place> lay_out(const Layout& layout, const std::vector<std::string>& taken);

// Letters between those of the first block and of the last that no block has.
std::vector<std::string> letters_passed_over(const std::vector<Place>& places);

}  // namespace plumule::bench
