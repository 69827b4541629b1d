#include "records/words.hpp"

#include <array>
#include <span>
#include <utility>

namespace plumule::records {
namespace {

template <class Kind>
using Word = std::pair<Kind, std::string_view>;

constexpr std::array<Word<Setting>, 6> settings = {{{Setting::towel, "towel"},
                                                    {Setting::dish, "dish"},
                                                    {Setting::tray, "tray"},
                                                    {Setting::cells, "cells"},
                                                    {Setting::pot, "pot"},
                                                    {Setting::row, "row"}}};
constexpr std::array<Word<UnitKind>, 3> unit_kinds = {
    {{UnitKind::seed, "seed"}, {UnitKind::cluster, "cluster"}, {UnitKind::cell, "cell"}}};
constexpr std::array<Word<Counting>, 3> countings = {{{Counting::root_seen, "root"},
                                                      {Counting::shoot_up, "shoot"},
                                                      {Counting::usable_seedling, "usable"}}};
constexpr std::array<Word<UnitsKnown>, 3> units_knowns = {{{UnitsKnown::exact, "exact"},
                                                           {UnitsKnown::estimated, "estimated"},
                                                           {UnitsKnown::unknown, "unknown"}}};
constexpr std::array<Word<EndingKind>, 5> ending_kinds = {{{EndingKind::finished, "finished"},
                                                           {EndingKind::accident, "accident"},
                                                           {EndingKind::failed, "failed"},
                                                           {EndingKind::given_up, "given-up"},
                                                           {EndingKind::sown_over, "sown-over"}}};
constexpr std::array<Word<Outcome>, 8> outcomes = {{{Outcome::hard, "hard"},
                                                    {Outcome::firm, "firm"},
                                                    {Outcome::rotted, "rotted"},
                                                    {Outcome::empty, "empty"},
                                                    {Outcome::abnormal, "abnormal"},
                                                    {Outcome::died_below, "died"},
                                                    {Outcome::eaten, "eaten"},
                                                    {Outcome::not_found, "not-found"}}};
constexpr std::array<Word<Descent>, 3> descents = {
    {{Descent::own_harvest, "own-harvest"}, {Descent::split, "split"}, {Descent::mix, "mix"}}};

template <class Kind>
std::string_view find_word(std::span<const Word<Kind>> table, Kind kind) {
  for (const auto& [known, text] : table)
    if (known == kind) return text;
  return {};
}

template <class Kind>
std::optional<Kind> find_kind(std::span<const Word<Kind>> table, std::string_view word) {
  for (const auto& [kind, text] : table)
    if (text == word) return kind;
  return std::nullopt;
}

template <class Kind>
std::string list(std::span<const Word<Kind>> table) {
  std::string text;
  for (std::size_t i = 0; i < table.size(); ++i) {
    if (i > 0) text += i + 1 == table.size() ? " or " : ", ";
    text += table[i].second;
  }
  return text;
}

}  // namespace

std::string_view word(Setting setting) { return find_word<Setting>(settings, setting); }
std::string_view word(UnitKind unit) { return find_word<UnitKind>(unit_kinds, unit); }
std::string_view word(Counting counting) { return find_word<Counting>(countings, counting); }
std::string_view word(UnitsKnown known) { return find_word<UnitsKnown>(units_knowns, known); }
std::string_view word(EndingKind kind) { return find_word<EndingKind>(ending_kinds, kind); }
std::string_view word(Outcome outcome) { return find_word<Outcome>(outcomes, outcome); }
std::string_view word(Descent descent) { return find_word<Descent>(descents, descent); }

template <>
std::optional<Setting> from_word<Setting>(std::string_view text) {
  return find_kind<Setting>(settings, text);
}
template <>
std::optional<UnitKind> from_word<UnitKind>(std::string_view text) {
  return find_kind<UnitKind>(unit_kinds, text);
}
template <>
std::optional<Counting> from_word<Counting>(std::string_view text) {
  return find_kind<Counting>(countings, text);
}
template <>
std::optional<UnitsKnown> from_word<UnitsKnown>(std::string_view text) {
  return find_kind<UnitsKnown>(units_knowns, text);
}
template <>
std::optional<EndingKind> from_word<EndingKind>(std::string_view text) {
  return find_kind<EndingKind>(ending_kinds, text);
}
template <>
std::optional<Outcome> from_word<Outcome>(std::string_view text) {
  return find_kind<Outcome>(outcomes, text);
}
template <>
std::optional<Descent> from_word<Descent>(std::string_view text) {
  return find_kind<Descent>(descents, text);
}

template <>
std::string known_words<Setting>() {
  return list<Setting>(settings);
}
template <>
std::string known_words<UnitKind>() {
  return list<UnitKind>(unit_kinds);
}
template <>
std::string known_words<Counting>() {
  return list<Counting>(countings);
}
template <>
std::string known_words<UnitsKnown>() {
  return list<UnitsKnown>(units_knowns);
}
template <>
std::string known_words<EndingKind>() {
  return list<EndingKind>(ending_kinds);
}
template <>
std::string known_words<Outcome>() {
  return list<Outcome>(outcomes);
}
template <>
std::string known_words<Descent>() {
  return list<Descent>(descents);
}

}  // namespace plumule::records
