// Finding a sowing by what a grower calls it.
#include <algorithm>
#include <string_view>

#include <fmt/format.h>

#include "logbook/record/find.hpp"
#include "logbook/record/sowing_rows.hpp"
#include "logbook/record/sowings.hpp"
#include "records/label.hpp"
#include "records/names.hpp"
#include "records/refused.hpp"

namespace plumule::logbook {
namespace {

using records::Refused;
using records::Sowing;

// "A1@2025-04-03" into its label and the day, month or year it was sown in.
struct Name {
  std::string label;
  std::string sown;
};

// "sowing:A1" settles that no lot or trial of the name is meant.
constexpr std::string_view kind_said = "sowing:";

Name split(const std::string& typed) {
  const std::string name = typed.starts_with(kind_said) ? typed.substr(kind_said.size()) : typed;
  const auto at = name.find('@');
  if (at == std::string::npos) return {name, {}};
  return {name.substr(0, at), name.substr(at + 1)};
}

bool is_year_or_more(const std::string& text) {
  const auto digits = [&text](std::size_t from, std::size_t count) {
    return std::all_of(text.begin() + static_cast<std::ptrdiff_t>(from),
                       text.begin() + static_cast<std::ptrdiff_t>(from + count),
                       [](char c) { return c >= '0' && c <= '9'; });
  };
  if (text.size() == 4) return digits(0, 4);
  if (text.size() == 7) return digits(0, 4) && text[4] == '-' && digits(5, 2);
  return records::parse_date(text).has_value();
}

std::vector<Sowing> sowings_called(Store& store, const Name& name) {
  std::vector<Sowing> found;
  Query find(store, select_sowing + "where s.label = ? order by s.sown_on", name.label);
  while (find.next()) {
    Sowing sowing = sowing_in(find);
    if (records::to_text(sowing.sown.date).rfind(name.sown, 0) == 0)
      found.push_back(std::move(sowing));
  }
  return found;
}

std::vector<std::string> known_labels(Store& store) {
  std::vector<std::string> known;
  Query find(store, "select label from sowings group by label order by min(ended_as is not null)");
  while (find.next()) known.push_back(find.text(0));
  return known;
}

// A trial, lot, treatment or crop of that name was meant for a sowing: those of its that are open.
void refuse_other_kind(Logbook& logbook, const std::string& name) {
  struct Kind {
    const char* called;
    bool (*fits)(const Sowing&, const std::string&);
  };
  static constexpr Kind kinds[] = {
      {"trial",
       [](const Sowing& s, const std::string& n) { return records::same_label(s.trial, n); }},
      {"lot", [](const Sowing& s, const std::string& n) { return records::same_label(s.lot, n); }},
      {"treatment",
       [](const Sowing& s, const std::string& n) { return records::same_label(s.treatment, n); }},
      {"crop",
       [](const Sowing& s, const std::string& n) { return records::same_label(s.crop, n); }}};
  constexpr std::size_t most = 8;
  const std::vector<Sowing> open = open_sowings(logbook);
  for (const Kind& kind : kinds) {
    std::string labels;
    std::size_t found = 0;
    for (const Sowing& sowing : open) {
      if (!kind.fits(sowing, name)) continue;
      if (++found <= most) labels += (found == 1 ? "" : ", ") + sowing.label;
    }
    if (found == 0) continue;
    if (found > most) labels += " and " + std::to_string(found - most) + " more";
    throw Refused(
        fmt::format("{} is a {}, not a sowing. Its open sowings: {}.", name, kind.called, labels));
  }
}

}  // namespace

std::optional<Sowing> find_sowing(Logbook& logbook, const std::string& text) {
  Store& store = logbook.store();
  const Name name = split(text);
  if (!records::is_label(name.label)) return std::nullopt;
  if (name.sown.empty()) {
    if (text.find('@') != std::string::npos) return std::nullopt;
    Query open(store,
               select_sowing +
                   "where s.label = ? order by s.ended_as is not null, "
                   "s.sown_on desc limit 1",
               name.label);
    if (!open.next()) return std::nullopt;
    return sowing_in(open);
  }
  if (!is_year_or_more(name.sown)) return std::nullopt;
  const auto found = sowings_called(store, name);
  if (found.empty()) return std::nullopt;
  if (found.size() > 1) {
    std::vector<std::string> dates;
    for (const Sowing& sowing : found) dates.push_back(records::to_text(sowing.sown.date));
    throw Refused(found[0].label + " was sown more than once in " + name.sown + ": on " +
                  records::listed(dates) + ". Name the day: " + found.back().dated_label() + '.');
  }
  return found[0];
}

Sowing sowing_named(Logbook& logbook, const std::string& text) {
  if (auto sowing = find_sowing(logbook, text)) return *sowing;
  Store& store = logbook.store();
  const Name name = split(text);
  if (!records::is_label(name.label))
    throw Refused("No sowing: " + records::label_trouble(name.label) + '.');
  if (text.find('@') != std::string::npos) {
    if (!is_year_or_more(name.sown))
      throw Refused("\"" + text + "\": after the @ comes the year or the day of sowing, such as " +
                    name.label + "@2025 or " + name.label + "@2025-04-03.");
    const auto others = sowings_called(store, {name.label, {}});
    if (!others.empty()) {
      std::string dates;
      for (const Sowing& other : others)
        dates += (dates.empty() ? "" : ", ") + records::to_text(other.sown.date);
      throw Refused("No " + others[0].label + " was sown in " + name.sown + ". Sown on: " + dates +
                    '.');
    }
  }
  refuse_other_kind(logbook, name.label);
  throw Refused(unknown_name("sowing", name.label, known_labels(store)),
                {{records::Advice::add_sowing, name.label}});
}

Sowing sowing_by_id(Logbook& logbook, records::Id id) {
  Query find(logbook.store(), select_sowing + "where s.id = ?", id);
  if (!find.next()) throw Refused("That sowing is not in the logbook any more.");
  return sowing_in(find);
}

std::optional<Sowing> sown_next(Logbook& logbook, const std::string& label,
                                const records::Moment& after) {
  Query find(logbook.store(),
             select_sowing + "where s.label = ? and s.sown_on > ? order by s.sown_on limit 1",
             label, after.date);
  if (!find.next()) return std::nullopt;
  return sowing_in(find);
}

bool label_shared(Logbook& logbook, const std::string& label) {
  Query find(logbook.store(),
             "select count(*) from (select 1 from sowings where label = ? limit 2)", label);
  return find.next() && find.integer(0) > 1;
}

std::vector<Sowing> open_sowings(Logbook& logbook) {
  std::vector<Sowing> open;
  Query find(logbook.store(), select_sowing + "where s.ended_as is null");
  while (find.next()) open.push_back(sowing_in(find));
  std::stable_sort(open.begin(), open.end(), [](const Sowing& a, const Sowing& b) {
    if (!records::same_label(a.place, b.place)) return records::label_before(a.place, b.place);
    if (a.bench_order != b.bench_order) return a.bench_order < b.bench_order;
    return records::label_before(a.label, b.label);
  });
  return open;
}

}  // namespace plumule::logbook
