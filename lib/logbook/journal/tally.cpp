#include "logbook/journal/tally.hpp"

#include <algorithm>
#include <array>
#include <bit>
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

// Room behind what is there already.
char* RowHash::room(std::size_t size) {
  if (bytes_.size() - filled_ < size) bytes_.resize(2 * bytes_.size() + size);
  char* const begin = bytes_.data() + filled_;
  filled_ += size;
  return begin;
}

void RowHash::begin(std::string_view table) {
  filled_ = 0;
  std::copy(table.begin(), table.end(), room(table.size()));
  column_ = 0;
}

void RowHash::add(std::int64_t value) {
  char* const bytes = room(2 + sizeof value);
  bytes[0] = static_cast<char>(column_++);
  bytes[1] = 'i';
  if constexpr (std::endian::native == std::endian::little) {
    std::memcpy(bytes + 2, &value, sizeof value);
  } else {
    for (std::size_t i = 0; i < sizeof value; ++i)
      bytes[2 + i] = static_cast<char>(static_cast<std::uint64_t>(value) >> (8 * i));
  }
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
  *room(1) = 'r';
}

void RowHash::add(std::string_view value) {
  char* const bytes = room(2 + value.size() + 1);
  bytes[0] = static_cast<char>(column_++);
  bytes[1] = 't';
  *std::copy(value.begin(), value.end(), bytes + 2) = '\0';
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

std::uint64_t RowHash::end() { return XXH3_64bits(bytes_.data(), filled_); }

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
