// What a grower may have meant, or may do next, as data: which thing, and what it is about. A front
// end says it in its own words, with the command to type or the button to press; the library names
// neither.
#pragma once

#include <cstdint>
#include <optional>
#include <string>

#include "records/count.hpp"
#include "records/date.hpp"

namespace plumule::records {

// Beside each stands what of a Hint it fills in. Of a `form` (in `figure`) only the kind counts,
// and whether there are seedlings: so the right figure is to be given.
enum class Advice {
  none,

  // A count is refused.
  count_again,              // it was counted wrong
  type_again,               // the figure was typed wrong
  other_day,                // another day was meant
  counted_earlier,          // it was counted before its sowing ended
  named_by_year,            // an earlier sowing of the label was meant: name
  only_looked,              // nothing was up: name
  some_died,                // name, figure: standing and lost
  none_died,                // of those that stand; some had died before: name, figure
  say_how_many_died,        // name, figure: standing and lost, for an example
  say_how_many_died_since,  // the same, where no earlier figure may be told: name, figure
  this_guess,               // name, figure: what may have been meant
  fewer_lost,               // name, figure: what may have been meant
  in_all,                   // not new: name, said (the figure typed), figure
  newly_up,                 // not in all: name, said (the figure typed), figure
  seedlings_of_clusters,    // name, figure: units and seedlings, for an example
  units_then_seedlings,     // the order of the two: name
  more_sown,                // name, said (what was sown: seeds), number
  more_in_a_cell,           // name, number: seeds in a cell
  amend_look,               // an earlier or later look is wrong: name, at, said (its day), form
  amend_earlier_look,       // one of them, which may not be told: name, form
  amend_sown_day,           // name
  amend_count,              // the one that stands is wrong: name, at, figure, number (as above)
  amend_assessment,         // name
  another_look,             // at another time of the day: at
  another_look_that_day,    // the same, where what was lost since the look before is told: at
  another_person,           // somebody else counted
  ended_too_soon,           // name
  before_accident,          // the look was made before the accident: name
  after_accident,           // it was made after it: name

  // A sowing or an ending is refused.
  change_sowing,      // the one that is there: name
  end_sowing,         // name
  sow_over,           // the earlier one was sown over
  sow_over_by_later,  // by one that was sown after it: at (its day), said (the day of the later)
  give_other_label,   // it is another tray
  say_how_many,       // seeds, clusters, cells, a weight, a length, or that nobody knows
  wetting_or_soak,    // when the soak began, or its hours: at, number
  name_treatment,     // a label of its own for what was done
  make_treatment,     // with its facts, or without any
  name_trial,         // the one it belongs to: said (those that are open), may be empty
  make_trial,         // with its plan, or without any
  settle_aside,       // which of two figures holds: name, said (how the second is called)
  show_aside,         // what is kept aside: name
  reopen,             // name
  remove_look,        // it was of another sowing: name, at

  // A lot, or a command that is to be taken back, is refused.
  packed_year,      // number
  change_lot,       // the one that is there: name
  add_lot,          // name
  add_sowing,       // name
  undo_or_set_day,  // of how a lot is kept
  undo_of,          // what that person did: name

  // A row of a flat log is refused, since the logbook has something else.
  amend_logbook,      // the logbook is wrong
  amend_ending,       // the ending is: name
  amend_figure,       // the count is: name, at
  pass_over_columns,  // that are not known
  order_of_dates,     // the day first, or the month

  // A logbook's file cannot be used.
  make_logbook,           // there is none: name another, or make one
  name_file_in_folder,    // a folder was named
  make_logbook_anew,      // the file is empty, and there is no backup
  name_other_or_make,     // it is another program's database
  name_other_or_take_in,  // it is no database; a table of a spreadsheet is taken in
  restore_if_wrong,       // it was put right, for all that can be told: name (the file)
  name_backup,            // none lies where it was said
  find_damage,            // it is not as it was written: name (the file)
  accept_file,            // so it is, but every rule holds: name (the file)
  restore_backup,         // it is damaged: name (the file; may be empty)

  // A question that an answer cannot be given to.
  put_lots_side_by_side,  // lots were to be compared: said (what was asked about)
  show_figures,           // of one treatment alone: said (what was asked about)
  choose_counting,        // roots or shoots: name, said
  name_against,           // what a treatment is to be held against

  // What an answer leads on to.
  keep_in_logbook,    // several trays
  sow_first,          // no sowing is open
  end_one,            // name
  give_standard,      // of a lot that has none
  show_lot,           // all that is said of one lot: name
  show_late_counts,   // those after a trial's close
  record_jar,         // of a sowing: name
  compare_one_trial,  // name
  reopen_each,        // of sowings ended too soon
  explain_one,        // of many words
  show_all_facts,     // of a crop: name, number
  show_one_crop,      // of many

  // What an explanation leads on to.
  take_own_rho,           // from sowings of one's own
  show_each_table,        // of several that differ
  show_which_are_proven,  // of what is said of a crop
  look_sources_up,        // of what is said of a crop

  // A count is refused, of a sowing that has lost some.
  came_and_died,               // between two looks: name, figure, number (those of its lost)
  say_how_many_came_and_died,  // the same, where no earlier figure may be told: name, figure
  ever_up,                     // the same, of a sowing that has lost some: name, said, figure
  amend_either,                // the same, where a number alone may be either: name, at, figure

  number_of_advices  // none itself: each before it has a sentence
};

struct Hint {
  Advice advice = Advice::none;
  std::string name = {};  // of a sowing, lot or person, as the logbook spells it
  std::optional<Moment> at = {};
  std::string said = {};  // how the refusal itself calls the day, the figure or the thing
  std::optional<Entered> figure = {};
  std::int64_t number = 0;
};

}  // namespace plumule::records
