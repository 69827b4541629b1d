// A logbook at hand and short commands on it, for tests.
#pragma once

#include <string>
#include <utility>

#include "logbook/journal/entry.hpp"
#include "logbook/record/aside.hpp"
#include "logbook/record/counts.hpp"
#include "logbook/record/lots.hpp"
#include "logbook/record/moves.hpp"
#include "logbook/record/sowings.hpp"
#include "logbook/record/stock.hpp"
#include "logbook/record/treatments.hpp"
#include "logbook/record/trials.hpp"
#include "logbook/store/store.hpp"
#include "records/said.hpp"

namespace plumule::tests {

inline records::Date day(const char* text) { return *records::parse_date(text); }
inline records::Moment at(const char* text) { return *records::parse_moment(text); }

// Sown on Fri 3 Apr 2026, twenty seeds in a tray.
inline records::Sowing tray(const std::string& label, const char* sown = "2026-04-03") {
  records::Sowing sowing;
  sowing.label = label;
  sowing.sown = at(sown);
  sowing.units = 20;
  return sowing;
}

class Keeping {
 public:
  explicit Keeping(logbook::Logbook logbook = logbook::Logbook::in_memory())
      : book(std::move(logbook)) {}

  logbook::Logbook book;
  records::Date today = day("2026-05-01");
  std::string by = "ada";

  // One command: an entry that is committed where `act` throws nothing.
  template <class Act>
  auto command(const std::string& typed, const Act& act) {
    logbook::Entry entry(book, by, typed, today);
    if constexpr (std::is_void_v<decltype(act(entry))>) {
      act(entry);
      entry.say("did " + typed);
      entry.commit();
    } else {
      auto result = act(entry);
      entry.say("did " + typed);
      entry.commit();
      return result;
    }
  }

  records::Id lot(const std::string& code, const std::string& crop = "bean") {
    records::Lot lot;
    lot.code = code;
    lot.crop = crop;
    return command("lot " + code, [&](logbook::Entry& entry) { return add_lot(entry, lot); });
  }

  records::Id sow(const records::Sowing& sowing) {
    return command("sow " + sowing.label,
                   [&](logbook::Entry& entry) { return add_sowing(entry, sowing); });
  }

  // "K3=14" on a day, by somebody or nobody.
  logbook::Kept count(const std::string& typed, const char* on, const std::string& who = "") {
    return command("count " + typed, [&](logbook::Entry& entry) {
      const records::Pair pair = records::parse_pair(typed);
      const records::Sowing sowing = sowing_named(book, pair.name);
      return record_count(entry, sowing, records::Count{at(on), pair.typed.entered, who, 0});
    });
  }

  // "K3=14": what the count of that moment should have been; "K3" alone takes it out.
  void amend(const std::string& typed, const char* on) {
    command("amend " + typed, [&](logbook::Entry& entry) {
      const bool out = typed.find_first_of("=+") == std::string::npos;
      records::Pair pair;
      pair.name = typed;
      if (!out) pair = records::parse_pair(typed);
      amend_count(entry, sowing_named(book, pair.name), at(on),
                  out ? std::nullopt : std::optional(pair.typed.entered));
    });
  }

  void end(const std::string& label, records::EndingKind kind, const char* on,
           const std::string& why = "") {
    command("end " + label, [&](logbook::Entry& entry) {
      end_sowing(entry, sowing_named(book, label).id, records::Ending{kind, at(on), why});
    });
  }

  // The derived totals of a sowing, in order of time.
  std::vector<std::int64_t> totals(const std::string& label) {
    std::vector<std::int64_t> found;
    for (const auto& count : counts_of(book, sowing_named(book, label).id))
      found.push_back(count.total);
    return found;
  }

  std::int64_t number(const std::string& sql) {
    logbook::Query query(book.store(), sql);
    return query.next() ? query.integer(0) : -1;
  }
};

using Totals = std::vector<std::int64_t>;

}  // namespace plumule::tests
