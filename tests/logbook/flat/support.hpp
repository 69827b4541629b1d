// Flat logs as text, in and out of logbooks in memory, and a picture of all that a flat log
// carries.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>

#include "logbook/flat/log.hpp"
#include "logbook/logbook.hpp"
#include "records/date.hpp"

namespace plumule::tests {

// Gives the text in pieces of `step` bytes.
logbook::Reader reader_of(std::string_view text, std::size_t step = 1000);

inline constexpr const char* flat_today = "2026-06-30";

// Imports and, where nothing is wrong, commits.
logbook::ImportSummary import_text(logbook::Logbook& logbook, std::string_view text,
                                   const logbook::ImportOptions& options = {},
                                   const std::string& today = flat_today);
std::string export_text(logbook::Logbook& logbook);
// "3:emerged:12:the reason" of the errors, a line each.
std::string errors_of(const logbook::ImportSummary& summary);

// Lots, treatments, trials, and each sowing with its counts, ending, temperatures and notes, in
// words, in an order that depends on nothing but them.
std::string picture(logbook::Logbook& logbook);

// The first line in which two pictures differ, of both; empty where they are the same.
std::string difference(const std::string& a, const std::string& b);

}  // namespace plumule::tests
