#include "logbook/record/settings.hpp"

#include "logbook/journal/ledger.hpp"
#include "logbook/store/store.hpp"

namespace plumule::logbook {
namespace {

using records::Degrees;

constexpr const char* temperatures = "temperature_unit";

struct Setting {
  records::Id id = 0;
  std::string value;
};

std::optional<Setting> setting(Store& store, const char* name) {
  Query find(store, "select id, value from settings where name = ?", name);
  if (!find.next()) return std::nullopt;
  return Setting{find.integer(0), find.text(1)};
}

void set(Entry& entry, const char* name, const std::string& value) {
  Store& store = entry.logbook().store();
  if (const auto known = setting(store, name)) {
    RowChange change(entry, "settings", known->id);
    change.set("value", value);
    change.save();
    return;
  }
  Query(store, "insert into settings (name, value, entry) values (?, ?, ?)", name, value,
        entry.id())
      .run();
}

}  // namespace

std::optional<Degrees> temperature_unit(Logbook& logbook) {
  const auto kept = setting(logbook.store(), temperatures);
  if (!kept) return std::nullopt;
  return kept->value == "F" ? Degrees::fahrenheit : Degrees::celsius;
}

void set_temperature_unit(Entry& entry, Degrees unit) {
  set(entry, temperatures, unit == Degrees::fahrenheit ? "F" : "C");
}

Degrees shown_unit(Logbook& logbook) {
  return temperature_unit(logbook).value_or(Degrees::celsius);
}

}  // namespace plumule::logbook
