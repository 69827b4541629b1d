#include "logbook/journal/tally.hpp"

#include <array>
#include <cmath>
#include <cstring>

#define XXH_INLINE_ALL  // the header is the library: nothing more to link, here or at a guest's
#include <xxhash.h>

namespace plumule::logbook {
namespace {

// The columns as the numbered steps of the schema laid them: later ones come after them.
constexpr std::array<TalliedTable, 21> tables = {
    {{"photographs", 5},      {"notes", 6},       {"moves", 4},
     {"temperatures", 9},     {"assessments", 6}, {"second_readings", 11},
     {"doubtful_counts", 12}, {"counts", 10, 8},  {"stock", 7},
     {"sowings", 30},         {"batches", 4},     {"inspections", 3},
     {"blocks", 4},           {"trials", 6},      {"treatments", 8},
     {"storage", 7},          {"lot_parents", 4}, {"lots", 13},
     {"people", 2},           {"settings", 3},    {"changes", 0, -1, 6}}};

}  // namespace

void RowHash::begin(std::string_view table) {
  bytes_.assign(table);
  column_ = 0;
}

void RowHash::head(char kind) {
  bytes_ += static_cast<char>(column_++);
  bytes_ += kind;
}

void RowHash::add(std::int64_t value) {
  char bytes[2 + sizeof value] = {static_cast<char>(column_++), 'i'};
  for (std::size_t i = 0; i < sizeof value; ++i)
    bytes[2 + i] = static_cast<char>(static_cast<std::uint64_t>(value) >> (8 * i));
  bytes_.append(bytes, sizeof bytes);
}

void RowHash::add(double value) {
  constexpr double most = 9007199254740992.0;  // 2^53: whole numbers up to it are exact
  if (std::abs(value) < most && value == std::trunc(value)) {
    add(static_cast<std::int64_t>(value));
    return;
  }
  std::uint64_t bits = 0;
  std::memcpy(&bits, &value, sizeof bits);
  add(static_cast<std::int64_t>(bits));
  bytes_ += 'r';
}

void RowHash::add(std::string_view value) {
  head('t');
  bytes_.append(value);
  bytes_ += '\0';
}

void RowHash::add(const Value& value) {
  if (const auto* const integer = std::get_if<std::int64_t>(&value))
    add(*integer);
  else if (const auto* const text = std::get_if<std::string>(&value))
    add(std::string_view(*text));
  else if (const auto* const real = std::get_if<double>(&value))
    add(*real);
  else
    skip();
}

std::uint64_t RowHash::end() { return XXH3_64bits(bytes_.data(), bytes_.size()); }

const TalliedTable* tallied(std::string_view table) {
  for (const TalliedTable& one : tables)
    if (one.name == table) return &one;
  return nullptr;
}

std::uint64_t hash_of(const TalliedTable& table, const Row& row) {
  RowHash hash;
  hash.begin(table.name);
  for (const auto& [column, value] : row) hash.add(value);
  return hash.end();
}

std::uint64_t hash_of_line(std::string_view at, std::string_view by, std::string_view command,
                           std::string_view summary, std::string_view day) {
  RowHash hash;
  hash.begin("journal");
  for (const std::string_view text : {at, by, command, summary, day}) hash.add(text);
  return hash.end();
}

}  // namespace plumule::logbook
