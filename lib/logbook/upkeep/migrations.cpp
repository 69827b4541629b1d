#include "logbook/upkeep/migrations.hpp"

#include <sqlite3.h>

#include <algorithm>

#include "logbook/file/part.hpp"
#include "logbook/logbook.hpp"
#include "logbook/upkeep/copy.hpp"
#include "logbook/upkeep/stand_in.hpp"
#include "schema/embedded.hpp"

namespace plumule::logbook {
namespace {

Ladder numbered_steps() {
  Ladder found;
  for (const schema::File& file : schema::files()) {
    const std::string path(file.path);
    const std::string name = path.substr(path.rfind('/') + 1);
    if (path.rfind("schema/", 0) == 0 && path.find('/') == path.rfind('/') && name.size() > 9 &&
        name.substr(name.size() - 4) == ".sql" &&
        std::all_of(name.begin(), name.begin() + 4, [](char c) { return c >= '0' && c <= '9'; }))
      found.steps.push_back({path, std::string(file.text)});
  }
  std::sort(found.steps.begin(), found.steps.end(),
            [](const Step& a, const Step& b) { return a.name < b.name; });
  return found;
}

void drop_all(Store& store, const char* type) {
  std::vector<std::string> names;
  {
    Query find(store, "select name from sqlite_master where type = ?", type);
    while (find.next()) names.push_back(find.text(0));
  }
  for (const std::string& name : names) store.run("drop " + std::string(type) + " \"" + name + '"');
}

void take_steps(Store& store, const Ladder& ladder, std::int64_t from) {
  drop_all(store, "trigger");
  drop_all(store, "view");
  for (auto i = static_cast<std::size_t>(from); i < ladder.steps.size(); ++i)
    store.run(ladder.steps[i].sql);
  store.run(std::string(schema::text("schema/guards.sql")));
  store.run(std::string(schema::text("schema/views.sql")));
  store.run("pragma user_version = " + std::to_string(ladder.version()));
}

bool orphans(Store& store) { return Query(store, "pragma foreign_key_check").next(); }

// Another file stands at the path than the one that is open.
bool replaced(Store& store) {
  int moved = 0;
  return sqlite3_file_control(store.database().getHandle(), "main", SQLITE_FCNTL_HAS_MOVED,
                              &moved) == SQLITE_OK &&
         moved != 0;
}

}  // namespace

const Ladder& ladder() {
  static const Ladder steps = numbered_steps();
  return steps;
}

void lay_schema(Store& store, const Ladder& ladder) {
  store.run("begin exclusive; pragma application_id = " + std::to_string(application_id));
  take_steps(store, ladder, 0);
  store.run("commit");
}

void climb(Store& store, const Ladder& ladder, std::int64_t from) {
  take_steps(store, ladder, from);
  if (orphans(store)) throw Unusable("Rows would be lost.");
}

std::optional<std::string> migrate(Store& store, const Ladder& ladder) {
  const std::string trouble = store.path() +
                              " is of an older make and could not be brought up to "
                              "date; it was left as it was. ";
  try {
    const WriteTransaction alone(store);  // holds writers off until the new file stands there
    const Marks marks = read_marks(store);
    if (replaced(store) || marks.version >= ladder.version()) return std::nullopt;
    const std::string place = place_of(store.path());
    const Part part(place, mode_of_copy(place));
    {
      Store reader(store.path(), SQLite::OPEN_READWRITE);  // no copy is made within a transaction
      fill_part(reader, part, place);
    }
    change_part(part, [&](Store& copy) {
      // A step may rebuild a table, which foreign keys would hinder; they are checked at the end.
      copy.run("pragma foreign_keys = off; begin");
      climb(copy, ladder, marks.version);
      copy.run("commit");
    });
    return take_place(part.path(), place, place + ".before-" + std::to_string(ladder.version()));
  } catch (const std::exception& error) {
    const auto* hinted = dynamic_cast<const records::Hinted*>(&error);
    throw Unusable(trouble + error.what(), hinted ? hinted->hints() : std::vector<records::Hint>{});
  }
}

void lift_guards(Store& store) { drop_all(store, "trigger"); }

void lay_guards(Store& store) { store.run(std::string(schema::text("schema/guards.sql"))); }

Marks read_marks(Store& store) {
  Marks marks;
  {
    Query read(store, "pragma application_id");
    if (read.next()) marks.application = read.integer(0);
  }
  Query read(store, "pragma user_version");
  if (read.next()) marks.version = read.integer(0);
  return marks;
}

}  // namespace plumule::logbook
