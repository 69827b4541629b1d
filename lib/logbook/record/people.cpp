#include "logbook/record/people.hpp"

#include "logbook/store/store.hpp"
#include "records/refused.hpp"

namespace plumule::logbook {

std::optional<records::Id> person(Entry& entry, const std::string& name) {
  if (name.empty()) return std::nullopt;
  if (name.size() > 64)
    throw records::Refused("The name of who counted is too long: 64 characters at most.");
  Store& store = entry.logbook().store();
  Query find(store, "select id from people where name = ?", name);
  if (find.next()) return find.integer(0);
  Query(store, "insert into people (name, entry) values (?, ?)", name, entry.id()).run();
  return store.database().getLastInsertRowid();
}

}  // namespace plumule::logbook
