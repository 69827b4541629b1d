// Sowing: one tray, several alike, or a whole trial laid out at once.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "bench/jars.hpp"
#include "bench/layout.hpp"
#include "bench/treatments.hpp"
#include "bench/trials.hpp"
#include "crops/caution.hpp"
#include "logbook/journal/entry.hpp"
#include "records/sowing.hpp"

namespace plumule::bench {

struct ToSow {
  // What every tray has in common; its label, lot, treatment, jar, trial and block are left empty.
  // Crop and variety are the lot's where none is given. No units: reckoned from the weight where
  // the lot's seeds a gram are known; else refused, unless a weight or a length stands for them or
  // they are said to be not known.
  records::Sowing each;
  std::optional<std::int64_t> order;  // the turn on the bench; none: each the next
  bool number_not_known = false;

  std::vector<std::string> labels;  // of each tray; none: a whole trial is laid out and labelled
  std::vector<std::string> lots;    // as they are named; none: no lot is recorded
  std::vector<TreatmentAsked> treatments;
  std::vector<std::string> blocks;  // none: no block
  TrialAsked trial;
  Jars jars;
  bool over = false;  // of a sowing and an open one of its label the earlier was sown over

  // Of a whole trial.
  int trays = 1;                      // of each lot and treatment in each block
  std::string prefix;                 // of the labels; empty: a letter a block
  bool in_order = false;              // as listed, not drawn
  std::optional<std::uint64_t> draw;  // the number whose order is drawn; none: any
};

struct Sown {
  std::vector<records::Sowing> all;  // in bench order
  ChosenTrial trial;
  Treatments treatments;
  std::optional<std::uint64_t> draw;          // where an order was drawn: its number
  bool labels_go_on = false;                  // labels were made, and begin after those of the open
  std::vector<std::string> passed_over;       // letters of no block, since open sowings have them
  bool nothing_named = false;                 // neither lot nor crop
  std::optional<std::int64_t> by_weight;      // the number reckoned for the first from its weight
  std::vector<records::Sowing> over_already;  // entered late: sown over by one that is open
  std::vector<crops::Caution> cautions;  // of what is done to the seed and what it was dressed with
};

// More trays than any bench holds are refused.
inline constexpr std::size_t most_trays = 10'000;

// Makes the treatments, jars and the trial that are new, adds every sowing and takes it from its
// lot's stock. Of labels that are given there is one lot, one treatment and one block. Throws
// records::Refused; nothing is committed here.
Sown sow(logbook::Entry& entry, const ToSow& wanted);

}  // namespace plumule::bench
