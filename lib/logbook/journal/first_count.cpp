#include "logbook/journal/first_count.hpp"

namespace plumule::logbook {

std::optional<records::Id> first_count(Store& store, records::Id trial) {
  Query find(store,
             "with members as (select id from sowings where trial = ?1 union select "
             "json_extract(key, '$.id') from changes where tab = 'sowings' and undone = 0 and "
             "json_extract(before, '$.trial') = ?1) "
             "select min(entry) from (select min(c.entry) as entry from counts c where c.sowing in "
             "members union all select min(json_extract(before, '$.entry')) from changes where "
             "tab = 'counts' and undone = 0 and json_extract(key, '$.sowing') in members)",
             trial);
  if (!find.next()) return std::nullopt;
  return find.maybe_integer(0);
}

}  // namespace plumule::logbook
