// What stood before is shown beside what stands: nothing that was typed is lost.
#include "cli/showing/change_showing.hpp"

#include <algorithm>
#include <nlohmann/json.hpp>

#include "cli/showing/wording.hpp"
#include "logbook/journal/field_changes.hpp"

namespace plumule::cli {
namespace {

std::string when(const std::string& at) {
  return at.substr(0, std::min<std::size_t>(10, at.size()));
}

}  // namespace

std::vector<Change> field_changes_of(logbook::Logbook& logbook, records::About about,
                                     records::Id id, records::Degrees shown_in) {
  std::vector<Change> all;
  for (const logbook::FieldChange& one : logbook::field_changes(logbook, about, id, shown_in))
    all.push_back({one.at, one.by, one.field, one.before, one.after, one.entry});
  return all;
}

void show_changes(const Context& context, const std::vector<Change>& changes) {
  if (changes.empty()) return;
  const Screen& screen = context.screen;
  screen.line("Changed since it was entered:");
  std::size_t widest = 0;
  for (const Change& one : changes) widest = std::max(widest, one.by.size());
  for (const Change& one : changes) {
    std::string left = "  " + when(one.at) + "  " + one.by;
    left.resize(16 + widest, ' ');
    std::string text = one.field.empty() ? "" : one.field + ": ";
    text += one.after.empty() ? "none" : one.after;
    if (!one.before.empty())
      text += "; before, " + one.before;
    else if (!one.field.empty())
      text += "; before, none";
    screen.line(left + wrapped(text, screen.width(), static_cast<int>(left.size())));
  }
}

Json to_json(const std::vector<Change>& changes) {
  Json out = Json::array();
  for (const Change& one : changes)
    out.push_back({{"at", one.at},
                   {"by", one.by},
                   {"field", or_null(one.field)},
                   {"before", one.before},
                   {"after", one.after}});
  return out;
}

}  // namespace plumule::cli
