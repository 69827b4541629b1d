#include "logbook/journal/field_changes.hpp"

#include <array>
#include <span>
#include <string_view>

#include "logbook/journal/ledger.hpp"
#include "logbook/store/store.hpp"
#include "records/number_check.hpp"

namespace plumule::logbook {
namespace {

using records::About;

// How a column's value is said.
enum class Says { plain, yes_no, percent, points, degrees, name_of_row };

struct Field {
  std::string_view column;
  const char* called;
  Says says = Says::plain;
  const char* name_of = "";  // of a row: the select that names it
};

constexpr std::array sowing_fields = {
    Field{"label", "label"},
    Field{"sown_on", "sown on"},
    Field{"sown_time", "sown at"},
    Field{"lot", "lot", Says::name_of_row, "select code from lots where id = ?"},
    Field{"crop", "crop"},
    Field{"variety", "variety"},
    Field{"treatment", "treatment", Says::name_of_row, "select label from treatments where id = ?"},
    Field{"batch", "jar", Says::name_of_row, "select code from batches where id = ?"},
    Field{"trial", "trial", Says::name_of_row, "select code from trials where id = ?"},
    Field{"block", "block", Says::name_of_row, "select name from blocks where id = ?"},
    Field{"units_known", "how its number is known"},
    Field{"units", "number sown"},
    Field{"grams", "grams"},
    Field{"metres", "metres of row"},
    Field{"unit", "unit"},
    Field{"seeds_per_cell", "seeds in a cell"},
    Field{"counting", "counting"},
    Field{"wetted_on", "wetted on"},
    Field{"wetted_time", "wetted at"},
    Field{"setting", "setting"},
    Field{"taken_out", "sprouts taken out", Says::yes_no},
    Field{"depth_mm", "depth in mm"},
    Field{"medium", "medium"},
    Field{"place", "place"},
    Field{"bench_order", "turn on the bench"},
};

constexpr std::array lot_fields = {
    Field{"code", "name"},
    Field{"crop", "crop"},
    Field{"variety", "variety"},
    Field{"source", "source"},
    Field{"harvest_year", "harvest"},
    Field{"packed_year", "packed"},
    Field{"label_germination", "label", Says::percent},
    Field{"label_tested_on", "label tested on"},
    Field{"coating", "coating"},
    Field{"seed_treatment", "dressing"},
    Field{"seeds_per_gram", "seeds per gram"},
    Field{"irreplaceable", "irreplaceable", Says::yes_no},
};

constexpr std::array trial_fields = {
    Field{"code", "name"},
    Field{"question", "question"},
    Field{"closes_on", "last day"},
    Field{"worth", "difference worth having", Says::points},
    Field{"blind", "blind", Says::yes_no},
};

constexpr std::array treatment_fields = {
    Field{"label", "name"},
    Field{"soak_hours", "hours soaked"},
    Field{"water_c", "water", Says::degrees},
    Field{"scarification", "scarified"},
    Field{"chill_days", "days chilled"},
    Field{"chill_c", "chilled at", Says::degrees},
    Field{"priming", "primed"},
};

struct Kind {
  const char* table;
  std::span<const Field> fields;
};

Kind kind_of(About about) {
  switch (about) {
    case About::sowing:
      return {"sowings", sowing_fields};
    case About::lot:
      return {"lots", lot_fields};
    case About::trial:
      return {"trials", trial_fields};
    case About::treatment:
      break;
  }
  return {"treatments", treatment_fields};
}

std::string number_of(const Value& value) {
  if (std::holds_alternative<std::int64_t>(value))
    return std::to_string(std::get<std::int64_t>(value));
  if (std::holds_alternative<double>(value)) return records::shown(std::get<double>(value));
  return {};
}

double real(const Value& value) {
  return std::holds_alternative<double>(value) ? std::get<double>(value)
                                               : static_cast<double>(std::get<std::int64_t>(value));
}

std::string said(Store& store, const Field& field, const Value& value, records::Degrees shown_in) {
  if (std::holds_alternative<std::monostate>(value)) return {};
  if (std::holds_alternative<std::string>(value)) return std::get<std::string>(value);
  switch (field.says) {
    case Says::yes_no:
      return value == Value(std::int64_t{0}) ? "no" : "yes";
    case Says::percent:
    case Says::points:
      return records::shown(real(value) * 100) + (field.says == Says::points ? " points" : " %");
    case Says::degrees:
      return records::shown_temperature(real(value), shown_in);
    case Says::name_of_row: {
      if (!std::holds_alternative<std::int64_t>(value)) return {};
      Query find(store, field.name_of, std::get<std::int64_t>(value));
      return find.next() ? find.text(0) : "one that is gone";
    }
    case Says::plain:
      break;
  }
  return number_of(value);
}

std::string text_in(const Row& row, std::string_view name) {
  const Value* value = column(row, name);
  return value != nullptr && std::holds_alternative<std::string>(*value)
             ? std::get<std::string>(*value)
             : std::string();
}

// The columns of an ending as one: "finished, 2026-04-24 (dug up)".
std::string ending_in(const Row& row) {
  std::string text = text_in(row, "ended_as");
  const auto add = [&](const char* between, const std::string& part, const char* end) {
    if (!part.empty()) text += between + part + end;
  };
  add(text.empty() ? "" : ", ", text_in(row, "ended_on"), "");
  add(" ", text_in(row, "ended_time"), "");
  add(" (", text_in(row, "ended_why"), ")");
  return text;
}

constexpr const char* standing_changes =
    "from changes c join journal j on j.id = c.entry where c.undone = 0 and j.undone_at is null "
    "and c.after is not null ";

}  // namespace

std::vector<FieldChange> field_changes(Logbook& logbook, About about, records::Id id,
                                       records::Degrees shown_in) {
  Store& store = logbook.store();
  const Kind kind = kind_of(about);
  // Where a sowing was moved, its place now is that of its last move.
  Query find(store,
             std::string("select j.at, j.by, c.before, c.after, j.id ") + standing_changes +
                 "and ((c.tab = ?1 and json_extract(c.key, '$.id') = ?2) or (c.tab = 'moves' and "
                 "?1 = 'sowings' and json_extract(c.key, '$.id') in "
                 "(select m.id from moves m where m.sowing = ?2))) order by c.entry, c.seq",
             kind.table, id);
  std::vector<FieldChange> all;
  while (find.next()) {
    const Row before = from_json(find.text(2));
    const Row after = from_json(find.text(3));
    for (const Field& field : kind.fields) {
      const Value* now = column(after, field.column);
      if (now == nullptr) continue;
      const Value* was = column(before, field.column);
      all.push_back({find.text(0), find.text(1), field.called,
                     was != nullptr ? said(store, field, *was, shown_in) : std::string(),
                     said(store, field, *now, shown_in), find.integer(4)});
    }
    if (column(after, "ended_as") != nullptr || column(after, "ended_on") != nullptr)
      all.push_back({find.text(0), find.text(1), "ending", ending_in(before), ending_in(after),
                     find.integer(4)});
  }
  return all;
}

}  // namespace plumule::logbook
