// What a row says of its sowing, and of the lot, treatment, batch and trial of it: held against
// what earlier rows said.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "logbook/flat/log_reader.hpp"
#include "logbook/flat/sheet/dates.hpp"

namespace plumule::logbook {

class FlatNames {
 public:
  static constexpr std::uint32_t none = FactTable::none;

  FlatNames(FlatFile& file, FlatErrors& errors, records::Date today, DateOrder dates);

  // The row's sowing; `none` where the row has none (it may say something of a lot, treatment or
  // trial alone) or names it badly. `good` is false where any of these cells is bad.
  struct Taken {
    std::uint32_t sowing = none;
    bool good = true;
  };
  Taken take(std::span<const std::string_view> cells, std::uint32_t line);
  // Looks at the cells of a row that cannot be told of which sowing it is.
  void look_at(std::span<const std::string_view> cells, std::uint32_t line);

 private:
  template <class Record>
  TextId canonical(const Fact<Record>& fact, std::size_t position);
  template <class Record>
  void look_at_all(std::span<const Fact<Record>> facts, const std::vector<FactAt>& columns);
  std::optional<records::Moment> sown_on_in(std::string_view cell);
  template <class Record>
  void say_all(std::span<const Fact<Record>> facts, const std::vector<FactAt>& columns,
               FactTable& table, std::uint32_t thing, std::string_view kind);
  void say(FactTable& table, std::uint32_t thing, std::size_t fact, TextId text,
           std::string_view column, std::string_view value, std::string_view whose);
  // The cell of a sowing's column, trimmed; empty where the file has no such column.
  std::string_view sowing_cell(std::size_t fact) const;
  std::string_view named_or_said(std::uint32_t sowing, std::size_t fact);
  std::uint32_t thing_of(FactTable& table, std::size_t fact, std::string_view name);
  std::uint32_t sowing_of(std::string_view label, std::string_view sown_on);
  void take_treatment(std::uint32_t sowing);
  void take_lot(std::uint32_t sowing);
  void take_trial(std::uint32_t sowing);
  void take_own(std::uint32_t sowing);
  void bad(std::string_view column, std::string_view value, std::string reason);
  void bad_day(std::string_view column, std::string_view value, SheetDate trouble);
  bool same_as_last(std::span<const std::string_view> cells);

  FlatFile& file_;
  FlatErrors& errors_;
  records::Date today_;
  DateOrder dates_;
  std::size_t lot_, treatment_, batch_, trial_, block_, crop_, variety_;  // sowing facts
  std::vector<std::size_t> at_;  // the position of each sowing fact, or absent
  std::span<const std::string_view> cells_;
  std::uint32_t line_ = 0;
  bool good_ = true;
  std::vector<std::string> last_cells_;  // of the columns in header.facts
  Taken last_;
  bool has_last_ = false;
};

}  // namespace plumule::logbook
