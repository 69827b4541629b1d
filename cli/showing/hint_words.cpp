// One sentence an advice, in the order of the advices: the compiler refuses a gap. In braces stand
// the facts of the hint; `pair` is its name with the figure, `form` how a right figure is typed.
#include "cli/showing/hint_words.hpp"

#include <fmt/format.h>

#include <array>
#include <string_view>

#include "cli/showing/typed_words.hpp"

namespace plumule::cli {
namespace {

using records::Advice;
using records::Hint;

struct Sentence {
  Advice advice;
  std::string_view text;
};

constexpr std::array sentences = std::to_array<Sentence>({
    {Advice::none, ""},

    {Advice::count_again, "Counted wrong? Type it again."},
    {Advice::type_again, "The figure entered wrong? Type it again."},
    {Advice::other_day, "Another day meant? --on DATE."},
    {Advice::counted_earlier, "Counted earlier? --on DATE."},
    {Advice::named_by_year, "An earlier {name}? Name it with its year, such as {name}@2025."},
    {Advice::only_looked, "Only looked? {name}=same."},
    {Advice::some_died, "{died} died? {pair}."},
    {Advice::none_died, "{standing} stand, and none died since? {pair}."},
    {Advice::say_how_many_died,
     "Some died? Type how many stand and how many were lost, such as {pair}."},
    {Advice::say_how_many_died_since,
     "Some died? Type how many stand and how many were lost since the last look: "
     "{name}={standing}-LOST."},
    {Advice::this_guess, "{pair}?"},
    {Advice::fewer_lost, "{pair}?"},
    {Advice::in_all, "{said} in all? {pair}."},
    {Advice::newly_up, "{said} new? {pair}."},
    {Advice::seedlings_of_clusters,
     "Seedlings of clusters? Type units and seedlings, such as {pair}."},
    {Advice::units_then_seedlings, "Units come first, seedlings in all second: {name}=5/9."},
    {Advice::more_sown, "More were sown? plumule amend {name} --{said} {number}."},
    {Advice::more_in_a_cell, "More seeds a cell? plumule amend {name} --per-cell {number}."},
    {Advice::amend_look, "{said} wrong? plumule amend {name}{form} --on {at}."},
    {Advice::amend_earlier_look,
     "An earlier look wrong? plumule amend {name} shows them; plumule amend {name}{form} --on DATE "
     "puts one right."},
    {Advice::amend_sown_day, "The sowing date wrong? plumule amend {name} --sown DATE."},
    {Advice::amend_count, "Wrong then? plumule amend {pair} --on {at}."},
    {Advice::amend_assessment,
     "Assessed wrong? plumule amend {name} shows what was; plumule amend {name} N --seen ID puts "
     "one right."},
    {Advice::another_look, "Looked twice? Give the time: --on {at}T17:00."},
    {Advice::another_look_that_day, "Looked twice that day? Give the time: --on {at}T17:00."},
    {Advice::another_person, "Another person's count? --who NAME."},
    {Advice::ended_too_soon, "Ended too soon? plumule amend {name} --reopen."},
    {Advice::before_accident,
     "Was this look before it? plumule amend {name} --reopen, count, and end it again."},
    {Advice::after_accident,
     "After it? It tells nothing of the seed: plumule note {name} keeps it in words."},

    {Advice::change_sowing,
     "To change that one: plumule amend {name} --seeds N, or whatever is wrong of it."},
    {Advice::end_sowing, "Finished? plumule end {name}."},
    {Advice::sow_over, "Sown over? Add --over."},
    {Advice::sow_over_by_later, "Sown on {day} all the same, and over by {said}? Add --over."},
    {Advice::give_other_label, "Another tray? Give it another label."},
    {Advice::say_how_many,
     "--seeds 50, --clusters 30 or --cells 24; where nobody knows, --grams, --metres or "
     "--unknown."},
    {Advice::wetting_or_soak, "Which is wrong? --wetted {at}{or_soak}."},
    {Advice::name_treatment, "Give it a label of its own: --treatment NAME."},
    {Advice::make_treatment,
     "A new one is made with its facts (--soak, --scarify, --chill, --prime), or without any by "
     "--new."},
    {Advice::name_trial, "Which one? --trial {said_or_name}."},
    {Advice::make_trial,
     "A new one is made with its --question or last day (--until DATE), or without any by --new."},
    {Advice::settle_aside, "plumule amend {name} --keep {said}, or --discard {said}, settles it."},
    {Advice::show_aside, "plumule amend {name} shows what is."},
    {Advice::reopen, "To take that back: plumule amend {name} --reopen."},
    {Advice::remove_look,
     "End it on that day or later; a count of another sowing is taken out with plumule amend "
     "{name} --on {at} --remove."},

    {Advice::packed_year,
     "Of a packet that says for which year it is packed, the year in which it was packed counts: "
     "--packed {number}."},
    {Advice::change_lot, "Give this one another code; plumule lot {name} changes that one."},
    {Advice::add_lot, "If it is new, plumule lot {name} --crop CROP adds it."},
    {Advice::add_sowing, "If it is new, plumule sow {name} --seeds N adds it."},
    {Advice::undo_or_set_day, "Take that back with plumule undo, or give the day of the change."},
    {Advice::undo_of, "To take that back: plumule undo --of {person}."},

    {Advice::amend_logbook, " with plumule amend NAME"},
    {Advice::amend_ending, ": plumule amend {name} --reopen"},
    {Advice::amend_figure, "; to correct it: plumule amend {name}=N --on {at}"},
    {Advice::pass_over_columns, " To pass over columns that are not known: --ignore-columns."},
    {Advice::order_of_dates,
     "; --dates dmy reads the day first in the whole sheet, --dates mdy the month."},

    {Advice::make_logbook, "`plumule init` makes one; --log FILE names another."},
    {Advice::name_file_in_folder, "Name the file in it with --log FILE."},
    {Advice::make_logbook_anew, "Without one, remove it and make a new one with plumule init."},
    {Advice::name_other_or_make,
     "--log FILE names the right one; plumule --log FILE init makes a new one."},
    {Advice::name_other_or_take_in,
     "--log FILE names the right one; what a spreadsheet saved as CSV is taken in by the command "
     "import."},
    {Advice::restore_if_wrong,
     "If anything is wrong now: plumule --log {file} restore COPY.db goes back to a backup."},
    {Advice::name_backup, "Name a file that plumule backup made."},
    {Advice::find_damage, "plumule --log {file} check finds out which, and says what to do."},
    {Advice::accept_file,
     "If you changed it with another program, and it is to hold: plumule --log {file} check "
     "--accept. It keeps a copy of the file as it is now."},
    {Advice::restore_backup,
     "To go back to a backup: plumule --log {file} restore COPY.db. It keeps this file as it is, "
     "under another name."},

    {Advice::put_lots_side_by_side,
     "Seed lots are no treatments: plumule summary{of} --by lot puts them side by side, and "
     "plumule "
     "viability LOT tells what each is worth."},
    {Advice::show_figures, "The figures: plumule summary{of}"},
    {Advice::choose_counting, "Which? plumule compare {name} --counting {said}"},
    {Advice::name_against, "Name another, or what it is to be held against: --against TREATMENT."},

    {Advice::keep_in_logbook,
     ": for several trays keep them in a logbook and ask `summary` or `compare`."},
    {Advice::sow_first, " One more: plumule sow A1 --lot LOT --seeds 50"},
    {Advice::end_one, "To end one: plumule end {name}"},
    {Advice::give_standard, ": give one with --standard."},
    {Advice::show_lot, "All of one: plumule viability {name}"},
    {Advice::show_late_counts, "; plumule summary has them."},
    {Advice::record_jar,
     " plumule amend {name} --jar NAME (one of its own, if it was treated by itself)."},
    {Advice::compare_one_trial, " plumule compare {name}"},
    {Advice::reopen_each, ": plumule amend LABEL --reopen"},
    {Advice::explain_one, "One of them, or a word as an answer prints it: plumule explain WORD"},
    {Advice::show_all_facts, "All {number} facts, with sources: plumule crops {name} --full"},
    {Advice::show_one_crop, " One of them: plumule crops NAME"},

    {Advice::take_own_rho, "; --rho own takes it from your own replicated sowings."},
    {Advice::show_each_table, "; --full shows each."},
    {Advice::show_which_are_proven, "; --full says which."},
    {Advice::look_sources_up, " named by plumule crops NAME --full"},

    {Advice::came_and_died, "{came} came up and died since the last look? {pair}."},
    {Advice::say_how_many_came_and_died,
     "Some came up and died since? Type how many of those that stood were lost, and how many more "
     "came and went: {name}={standing}-LOST+MORE."},
    {Advice::ever_up, "{said} in all, those lost among them? {name}={said}all."},
    {Advice::amend_either,
     "Wrong then? In all: plumule amend {name}={standing}all --on {at}. Standing: plumule amend "
     "{name}={standing}-0 --on {at}."},
});

constexpr bool in_order() {
  for (std::size_t i = 0; i < sentences.size(); ++i)
    if (sentences[i].advice != static_cast<Advice>(i)) return false;
  return true;
}
static_assert(in_order() &&
              sentences.size() == static_cast<std::size_t>(Advice::number_of_advices));

// "Two", at the start of a question; figures above twelve.
std::string how_many(std::int64_t n) {
  constexpr std::array words = {"None",  "One",   "Two",  "Three", "Four",   "Five",  "Six",
                                "Seven", "Eight", "Nine", "Ten",   "Eleven", "Twelve"};
  if (n >= 0 && n < static_cast<std::int64_t>(words.size()))
    return words[static_cast<std::size_t>(n)];
  return std::to_string(n);
}

std::string figure(const Hint& hint) {
  if (!hint.figure) return {};
  const records::Entered none_new{.kind = records::CountKind::newly};
  if (*hint.figure == none_new) return "+0";
  records::Typed typed(*hint.figure);
  if (typed.entered.kind == records::CountKind::standing) typed.came_lost = hint.number;
  return records::to_text(typed);
}

// How the right figure is typed: "=N", "+N", "=UNITS/SEEDLINGS".
std::string form(const Hint& hint) {
  if (!hint.figure) return {};
  const bool newly = hint.figure->kind == records::CountKind::newly;
  return std::string(newly ? "+" : "=") + (hint.figure->seedlings ? "UNITS/SEEDLINGS" : "N");
}

constexpr std::int64_t most_soak = 1000;  // hours, as the option takes them

// A name that a shell takes as it stands.
std::string person(const std::string& name) {
  const bool plain = name.find_first_of(" '\"$`\\") == std::string::npos;
  return plain ? name : "NAME, with that name in quotes";
}

}  // namespace

std::string in_words(const Hint& hint) {
  const std::string_view text = sentences[static_cast<std::size_t>(hint.advice)].text;
  return fmt::format(
      fmt::runtime(text), fmt::arg("name", hint.name), fmt::arg("said", hint.said),
      fmt::arg("number", hint.number), fmt::arg("at", hint.at ? records::to_text(*hint.at) : ""),
      fmt::arg("figure", figure(hint)), fmt::arg("pair", hint.name + figure(hint)),
      fmt::arg("form", form(hint)), fmt::arg("standing", hint.figure ? hint.figure->value : 0),
      fmt::arg("died", how_many(hint.figure ? hint.figure->lost : 0)),
      fmt::arg("came", how_many(hint.number)), fmt::arg("person", person(hint.name)),
      fmt::arg("file", hint.name.empty() ? "FILE" : quoted(hint.name)),
      fmt::arg("of", hint.said.empty() ? "" : ' ' + hint.said),
      fmt::arg("day", hint.at ? records::spoken(hint.at->date, true) : ""),
      fmt::arg("or_soak", hint.number > most_soak ? std::string()
                                                  : fmt::format(", or another treatment with "
                                                                "--soak {}",
                                                                hint.number)),
      fmt::arg("said_or_name", hint.said.empty() ? "NAME --new" : hint.said));
}

std::string with_hints(std::string facts, const std::vector<Hint>& hints) {
  for (const Hint& hint : hints) {
    const std::string text = in_words(hint);
    const bool goes_on = text.find_first_of(" ,;:") == 0;
    facts += (goes_on ? "" : " ") + text;
  }
  return facts;
}

std::string in_words(const records::Refusal& refusal) {
  return with_hints(refusal.fact, refusal.hints);
}

std::string in_words(const records::Hinted& trouble) {
  return with_hints(trouble.what(), trouble.hints());
}

}  // namespace plumule::cli
