#include "logbook/flat/courses.hpp"

#include <algorithm>

#include "logbook/record/course_rows.hpp"

namespace plumule::logbook {
namespace {

using records::Count;
using records::CountKind;

constexpr std::int32_t blank = FlatLook::blank;

bool same_figures(const FlatLook& a, const FlatLook& b) {
  return a.emerged == b.emerged && a.emerged_high == b.emerged_high && a.newly == b.newly &&
         a.newly_high == b.newly_high && a.lost == b.lost && a.seedlings == b.seedlings;
}

std::optional<std::int64_t> unless_blank(std::int32_t figure) {
  if (figure == blank) return std::nullopt;
  return figure;
}

// As it was entered: the kind follows from the cells that are filled. `lost` are those lost before.
records::Entered entered_of(const FlatLook& look, std::int64_t lost) {
  records::Entered entered;
  entered.seedlings = unless_blank(look.seedlings);
  if (look.lost > 0 || (look.lost == 0 && look.newly == blank)) {
    entered.kind = CountKind::standing;
    entered.lost = look.lost;
    entered.value = look.emerged - lost - look.lost;
  } else if (look.newly != blank) {
    entered.kind = CountKind::newly;
    entered.value = look.newly;
    entered.high = unless_blank(look.newly_high);
  } else if (look.emerged != blank) {
    entered.value = look.emerged;
    entered.high = unless_blank(look.emerged_high);
  } else {
    entered.kind = CountKind::seedlings;
  }
  return entered;
}

// Whether a look says nothing that differs from a count as it stands in its course.
bool agrees(const FlatLook& look, const Count& count, std::int64_t before) {
  const records::Entered& entered = count.entered;
  const bool same_guess = entered.value == look.emerged && entered.kind == CountKind::total &&
                          entered.high == unless_blank(look.emerged_high);
  if (look.emerged != blank && !same_guess &&
      (look.emerged_high != blank || look.emerged != count.total))
    return false;
  if (look.newly != blank && entered.kind == CountKind::newly) {
    if (look.newly != entered.value || unless_blank(look.newly_high) != entered.high) return false;
  } else if (look.newly != blank && look.newly != count.total - before) {
    return false;
  }
  if (look.lost != blank && look.lost != entered.lost) return false;
  return look.seedlings == blank || unless_blank(look.seedlings) == entered.seedlings;
}

}  // namespace

FlatCourses::FlatCourses(FlatMerge& merge)
    : merge_(merge),
      insert_(merge.store, "counts",
              "sowing, at, timed, kind, value, high, lost, seedlings, total, person, entry",
              merge.batch, Rows::whole),
      next_(merge.file.looks.next()) {}

void FlatCourses::bad(const FlatLook& look, std::string_view column, std::string reason,
                      std::vector<records::Hint> hints) {
  const std::int32_t figure = column == "newly_emerged" ? look.newly
                              : column == "lost"        ? look.lost
                              : column == "seedlings"   ? look.seedlings
                                                        : look.emerged;
  std::string value = figure == blank ? std::string() : std::to_string(figure);
  if (column == "emerged" && look.emerged_high != blank)
    value += ".." + std::to_string(look.emerged_high);
  if (column == "counted_on") value = records::to_text(FlatTime{look.day, look.minute}.moment());
  merge_.errors.add(look.line, column, value, std::move(reason), std::move(hints));
}

// The sowing's looks, each moment once.
void FlatCourses::gather(std::uint32_t sowing) {
  looks_.clear();
  for (; next_ != nullptr && next_->sowing == sowing; next_ = merge_.file.looks.next()) {
    if (looks_.empty() || looks_.back().at() != next_->at()) {
      looks_.push_back(*next_);
      continue;
    }
    if (!same_figures(looks_.back(), *next_))
      bad(*next_, next_->emerged != blank ? "emerged" : "newly_emerged",
          "line " + std::to_string(looks_.back().line) + " has another figure for the same look");
  }
}

// Puts looks and stored counts into one course by time.
void FlatCourses::join(const std::vector<Count>& stored) {
  counts_.clear();
  places_.clear();
  std::int64_t lost = 0;
  std::size_t s = 0;
  for (std::size_t k = 0; k <= looks_.size(); ++k) {
    const bool more = k < looks_.size();
    for (; s < stored.size() && (!more || stored[s].at.minutes() <= looks_[k].at()); ++s) {
      const bool same = more && stored[s].at.minutes() == looks_[k].at();
      counts_.push_back(stored[s]);
      places_.push_back({same ? k : Place::of_logbook, true});
      lost += stored[s].entered.lost;
    }
    if (!more || (!places_.empty() && places_.back().look == k)) continue;
    const FlatLook& look = looks_[k];
    Count count;
    count.at = FlatTime{look.day, look.minute}.moment();
    count.entered = entered_of(look, lost);
    if (count.entered.value < 0) {
      bad(look, "lost", "more were lost than ever came up");
      continue;
    }
    lost += count.entered.lost;
    counts_.push_back(std::move(count));
    places_.push_back({k, false});
  }
}

// Derives the totals; a look that breaks a rule is named, taken out, and the rest looked at again.
void FlatCourses::derive_all(const records::Sowing& record, std::uint32_t line) {
  while (const auto trouble = records::derive(record, counts_)) {
    std::size_t at = trouble->index;
    const bool own = !places_[at].stood;
    while (at > 0 && places_[at].stood) --at;
    if (places_[at].stood) {
      merge_.errors.add(line, "sowing", record.label,
                        "the counts of the logbook do not allow what the file says of it");
      counts_.clear();
      return;
    }
    const FlatLook& look = looks_[places_[at].look];
    FlatFault fault = flat_fault(record, counts_, *trouble, look);
    if (own)
      bad(look, fault.column, std::move(fault.reason));
    else
      bad(look, "counted_on",
          "with this look the logbook's count of " + records::to_text(counts_[trouble->index].at) +
              " cannot be: " + fault.reason);
    // What was lost at a look that goes would be missed by all that follow.
    if (counts_[at].entered.lost > 0) counts_.resize(at);
    if (at < counts_.size()) counts_.erase(counts_.begin() + static_cast<std::ptrdiff_t>(at));
    places_.erase(places_.begin() + static_cast<std::ptrdiff_t>(at));
    places_.resize(counts_.size());
  }
}

// What was assessed as not up can't have come up.
void FlatCourses::check_assessed(const records::Sowing& record) {
  if (!record.units || counts_.empty() || places_.back().stood) return;
  Query find(merge_.store, "select sum(units) from assessments where sowing = ?", record.id);
  if (!find.next() || find.null(0)) return;
  const std::int64_t assessed = find.integer(0);
  if (counts_.back().total + assessed <= *record.units) return;
  const FlatLook& look = looks_[places_.back().look];
  bad(look, look.emerged != blank ? "emerged" : "newly_emerged",
      std::to_string(counts_.back().total) + " up and " + std::to_string(assessed) +
          " assessed as not up are more than the " + std::to_string(*record.units) + " sown");
}

// Each look against what was derived: what was seen twice must be the same.
void FlatCourses::check_figures(const records::Sowing& record) {
  std::int64_t before = 0;
  for (std::size_t i = 0; i < counts_.size(); ++i) {
    const Count& count = counts_[i];
    if (places_[i].look != Place::of_logbook) {
      const FlatLook& look = looks_[places_[i].look];
      ++(places_[i].stood ? merge_.summary.counts_there : merge_.summary.counts_new);
      if (!agrees(look, count, before)) {
        const bool newly = look.newly != blank && look.emerged != blank;
        if (places_[i].stood)
          bad(look, look.emerged != blank ? "emerged" : "newly_emerged",
              "the logbook has " + records::in_words(count.entered) + " for " + record.label +
                  " at this look",
              {{records::Advice::amend_figure, record.open() ? record.label : record.dated_label(),
                count.at}});
        else
          bad(look, newly ? "newly_emerged" : "emerged",
              std::to_string(before) + " before and " + std::to_string(count.total - before) +
                  " new make " + std::to_string(count.total) + ", but the row has emerged " +
                  std::to_string(look.emerged) +
                  (look.newly == blank ? "" : " and newly_emerged " + std::to_string(look.newly)));
      }
    }
    before = count.total;
  }
}

void FlatCourses::insert(records::Id sowing) {
  const records::Id entry = merge_.entry.id();
  for (std::size_t i = 0; i < counts_.size(); ++i) {
    const Count& count = counts_[i];
    const records::Entered& entered = count.entered;
    insert_.add(sowing);
    insert_.add(count.at.minutes());
    insert_.add(std::int64_t{count.at.minute_of_day.has_value()});
    insert_.add(static_cast<std::int64_t>(entered.kind));
    insert_.add(entered.value);
    insert_.add(entered.high);
    insert_.add(entered.kind == CountKind::standing ? std::optional(entered.lost) : std::nullopt);
    insert_.add(entered.seedlings);
    insert_.add(count.total);
    insert_.add(merge_.person_of(looks_[places_[i].look].person));
    insert_.add(entry);
  }
}

void FlatCourses::write(records::Id sowing, const std::vector<CountRow>& was) {
  std::vector<CountRow> now;
  std::size_t s = 0;
  for (std::size_t i = 0; i < counts_.size(); ++i) {
    CountRow row{counts_[i], std::nullopt, merge_.entry.id()};
    if (places_[i].stood) {
      row.person = was[s].person;
      row.entry = was[s++].entry;
    } else {
      row.person = merge_.person_of(looks_[places_[i].look].person);
    }
    now.push_back(std::move(row));
  }
  write_course(merge_.store, sowing, was, now);
}

void FlatCourses::take(std::uint32_t sowing, const records::Sowing& record) {
  gather(sowing);
  if (looks_.empty() || merge_.file.spoilt[sowing] != 0) return;
  std::vector<CountRow> was;
  if (merge_.places.stood[sowing] != 0) was = read_course(merge_.store, record.id);
  join(counts_in(was));
  derive_all(record, merge_.file.sowings.line(sowing));
  if (merge_.places.stood[sowing] != 0) check_assessed(record);
  check_figures(record);
  if (merge_.errors.any()) return;
  if (was.empty())
    insert(record.id);
  else if (counts_.size() > was.size())
    write(record.id, was);
}

}  // namespace plumule::logbook
