#include "logbook/journal/ledger.hpp"

#include <sqlite3.h>
#include <algorithm>
#include <nlohmann/json.hpp>

#include "logbook/store/sql_trouble.hpp"
#include "records/refused.hpp"

namespace plumule::logbook {
namespace {

std::string columns_of(const Row& row, const char* between, const char* after) {
  std::string text;
  for (const auto& [column, value] : row) {
    if (!text.empty()) text += between;
    text += column + after;
  }
  return text;
}

void bind_all(Query& query, const Row& row) {
  for (const auto& [column, value] : row)
    std::visit(
        [&query](const auto& held) {
          if constexpr (std::is_same_v<std::decay_t<decltype(held)>, std::monostate>)
            query.bind(std::nullopt);
          else
            query.bind(held);
        },
        value);
}

Row read_row(Store& store, const std::string& table, records::Id id) {
  Query find(store, "select * from " + table + " where id = ?", id);
  if (!find.next()) throw records::Refused("That record is not in the logbook any more.");
  return row_of(find);
}

}  // namespace

const std::vector<std::string>& entry_tables() {
  static const std::vector<std::string> tables = {
      "photographs",     "notes",           "moves",  "temperatures", "assessments",
      "second_readings", "doubtful_counts", "counts", "stock",        "sowings",
      "batches",         "inspections",     "blocks", "trials",       "treatments",
      "storage",         "lot_parents",     "lots",   "people",       "settings"};
  return tables;
}

std::string to_json(const Row& row) {
  nlohmann::ordered_json json = nlohmann::ordered_json::object();
  for (const auto& [column, value] : row)
    std::visit(
        [&json, &column = column](const auto& held) {
          if constexpr (std::is_same_v<std::decay_t<decltype(held)>, std::monostate>)
            json[column] = nullptr;
          else
            json[column] = held;
        },
        value);
  return json.dump();
}

Row from_json(const std::string& text) {
  const auto json = nlohmann::ordered_json::parse(text, nullptr, false);
  if (!json.is_object())
    throw Unusable("The logbook is damaged: its ledger of changes cannot be read.", to_a_backup());
  Row row;
  for (const auto& [column, value] : json.items()) {
    if (value.is_null())
      row.emplace_back(column, Value());
    else if (value.is_number_integer())
      row.emplace_back(column, value.get<std::int64_t>());
    else if (value.is_number())
      row.emplace_back(column, value.get<double>());
    else if (value.is_string())
      row.emplace_back(column, value.get<std::string>());
    else
      throw Unusable("The logbook is damaged: its ledger of changes cannot be read.",
                     to_a_backup());
  }
  return row;
}

Row row_of(const Query& query) {
  Row row;
  for (int i = 0; i < query.columns(); ++i) {
    const SQLite::Column cell = query.cell(i);
    Value value;
    if (cell.isInteger())
      value = cell.getInt64();
    else if (cell.isFloat())
      value = cell.getDouble();
    else if (!cell.isNull())
      value = query.text(i);
    row.emplace_back(query.name(i), std::move(value));
  }
  return row;
}

const Value* column(const Row& row, std::string_view name) {
  for (const auto& [key, value] : row)
    if (key == name) return &value;
  return nullptr;
}

Row key_of(std::string_view table, const Row& row) {
  Row key;
  for (const auto& pair : row)
    if (table == "counts" ? pair.first == "sowing" || pair.first == "at" : pair.first == "id")
      key.push_back(pair);
  return key;
}

void put_row(Store& store, const std::string& table, const Row& row) {
  std::string places;
  for (std::size_t i = 0; i < row.size(); ++i) places += i == 0 ? "?" : ", ?";
  Query put(store, "insert into " + table + " (" + columns_of(row, ", ", "") + ") values (" +
                       places + ')');
  bind_all(put, row);
  put.run();
}

void set_row(Store& store, const std::string& table, const Row& key, const Row& columns) {
  Query set(store, "update " + table + " set " + columns_of(columns, ", ", " = ?") + " where " +
                       columns_of(key, " and ", " = ?"));
  bind_all(set, columns);
  bind_all(set, key);
  set.run();
}

void drop_row(Store& store, const std::string& table, const Row& key) {
  Query drop(store, "delete from " + table + " where " + columns_of(key, " and ", " = ?"));
  bind_all(drop, key);
  drop.run();
}

void keep_change(Store& store, records::Id entry, std::string_view table, const Row& key,
                 const Row& before, const Row* after, bool undone) {
  Query(store,
        "insert into changes (entry, seq, tab, key, before, after, undone) values (?1, "
        "(select coalesce(max(seq), 0) + 1 from changes where entry = ?1), ?2, ?3, ?4, ?5, ?6)",
        entry, table, to_json(key), to_json(before),
        after ? std::optional<std::string>(to_json(*after)) : std::nullopt, undone)
      .run();
}

RowChange::RowChange(Entry& entry, std::string table, records::Id id)
    : entry_(entry),
      table_(std::move(table)),
      row_(read_row(entry.logbook().store(), table_, id)) {}

void RowChange::put(const std::string& column, Value value) {
  const auto found = std::find_if(row_.begin(), row_.end(),
                                  [&column](const auto& pair) { return pair.first == column; });
  if (found == row_.end())
    throw Unusable("The logbook has no column " + column + " in " + table_ + '.');
  // A whole number in a column of reals is read back as a real.
  if (found->second == value) return;
  before_.push_back(*found);
  after_.emplace_back(column, std::move(value));
}

void RowChange::save() {
  if (after_.empty()) return;
  Store& store = entry_.logbook().store();
  const Row key = key_of(table_, row_);
  const records::Id entry = entry_.id();
  set_row(store, table_, key, after_);
  keep_change(store, entry, table_, key, before_, &after_);
}

void take_out(Entry& entry, const std::string& table, records::Id id) {
  Store& store = entry.logbook().store();
  const Row row = read_row(store, table, id);
  const Row key = key_of(table, row);
  const records::Id by = entry.id();
  drop_row(store, table, key);
  keep_change(store, by, table, key, row, nullptr);
}

}  // namespace plumule::logbook
