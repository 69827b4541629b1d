// The words in which settings, units, endings and outcomes are written in the file, the flat log
// and on the screen: one spelling everywhere.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "records/assessment.hpp"
#include "records/sowing.hpp"

namespace plumule::records {

std::string_view word(Setting setting);    // towel, dish, tray, cells, pot, row
std::string_view word(UnitKind unit);      // seed, cluster, cell
std::string_view word(Counting counting);  // root, shoot, usable
std::string_view word(UnitsKnown known);   // exact, estimated, unknown
std::string_view word(EndingKind kind);    // finished, accident, failed, given-up, sown-over
std::string_view word(
    Outcome outcome);  // hard, firm, rotted, empty, abnormal, died, eaten, not-found
std::string_view word(Descent descent);  // own-harvest, split, mix

// Back again; none for a word that is not of the kind. `known_words` lists them for a refusal.
template <class Kind>
std::optional<Kind> from_word(std::string_view text);
template <class Kind>
std::string known_words();  // "towel, dish, tray, cells, pot or row"

template <>
std::optional<Setting> from_word<Setting>(std::string_view text);
template <>
std::optional<UnitKind> from_word<UnitKind>(std::string_view text);
template <>
std::optional<Counting> from_word<Counting>(std::string_view text);
template <>
std::optional<UnitsKnown> from_word<UnitsKnown>(std::string_view text);
template <>
std::optional<EndingKind> from_word<EndingKind>(std::string_view text);
template <>
std::optional<Outcome> from_word<Outcome>(std::string_view text);
template <>
std::optional<Descent> from_word<Descent>(std::string_view text);
template <>
std::string known_words<Setting>();
template <>
std::string known_words<UnitKind>();
template <>
std::string known_words<Counting>();
template <>
std::string known_words<UnitsKnown>();
template <>
std::string known_words<EndingKind>();
template <>
std::string known_words<Outcome>();
template <>
std::string known_words<Descent>();

}  // namespace plumule::records
