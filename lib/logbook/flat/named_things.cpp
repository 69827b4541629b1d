#include "logbook/flat/named_things.hpp"

#include "records/label.hpp"
#include "records/treatment.hpp"

namespace plumule::logbook {
namespace {

std::string quoted(std::string_view text) { return '"' + std::string(text) + '"'; }

}  // namespace

std::size_t FlatFile::sowing_fact(std::string_view column) {
  const auto facts = sowing_facts();
  std::size_t i = 0;
  while (facts[i].column != column) ++i;
  return i;
}

FlatNames::FlatNames(FlatFile& file, FlatErrors& errors, records::Date today, DateOrder dates)
    : file_(file),
      errors_(errors),
      today_(today),
      dates_(dates),
      lot_(FlatFile::sowing_fact("lot")),
      treatment_(FlatFile::sowing_fact("treatment")),
      batch_(FlatFile::sowing_fact("treated_in")),
      trial_(FlatFile::sowing_fact("trial")),
      block_(FlatFile::sowing_fact("block")),
      crop_(FlatFile::sowing_fact("sowing_crop")),
      variety_(FlatFile::sowing_fact("sowing_variety")),
      at_(sowing_facts().size(), FlatHeader::absent),
      last_cells_(file.header.facts.size()) {
  for (const FactAt& column : file.header.sowing) at_[column.fact] = column.position;
}

void FlatNames::bad(std::string_view column, std::string_view value, std::string reason) {
  good_ = false;
  errors_.add(line_, column, value, std::move(reason));
}

void FlatNames::bad_day(std::string_view column, std::string_view value, SheetDate trouble) {
  good_ = false;
  errors_.add(line_, column, value, std::move(trouble.reason), order_hints(trouble));
}

std::string_view FlatNames::sowing_cell(std::size_t fact) const {
  return at_[fact] == FlatHeader::absent ? std::string_view() : trimmed(cells_[at_[fact]]);
}

// Two rows of one file are mostly of the same sowing, and say the same of it.
bool FlatNames::same_as_last(std::span<const std::string_view> cells) {
  const auto& facts = file_.header.facts;
  bool same = has_last_ && last_.good;
  for (std::size_t i = 0; same && i < facts.size(); ++i) same = cells[facts[i]] == last_cells_[i];
  if (!same)
    for (std::size_t i = 0; i < facts.size(); ++i) last_cells_[i] = cells[facts[i]];
  has_last_ = true;
  return same;
}

template <class Record>
TextId FlatNames::canonical(const Fact<Record>& fact, std::size_t position) {
  const std::string_view cell = trimmed(cells_[position]);
  if (cell.empty()) return 0;
  Record record{};
  Reason reason = fact.set(record, cell);
  if (!reason.empty() && (fact.holds == Holds::day || fact.holds == Holds::days)) {
    SheetDate trouble;
    const auto kept = days_as_kept(cell, fact.holds == Holds::days, dates_, trouble);
    if (!kept) {
      bad_day(fact.column, cell, std::move(trouble));
      return 0;
    }
    reason = fact.set(record, *kept);
  }
  if (!reason.empty()) {
    bad(fact.column, cell, std::move(reason));
    return 0;
  }
  return file_.texts.id(fact.get(record));
}

void FlatNames::say(FactTable& table, std::uint32_t thing, std::size_t fact, TextId text,
                    std::string_view column, std::string_view value, std::string_view whose) {
  const TextId other = table.say(thing, fact, text);
  if (other != 0)
    bad(column, value,
        "another row says " + quoted(file_.texts.text(other)) + " of " + std::string(whose));
}

template <class Record>
void FlatNames::say_all(std::span<const Fact<Record>> facts, const std::vector<FactAt>& columns,
                        FactTable& table, std::uint32_t thing, std::string_view kind) {
  for (const FactAt& column : columns) {
    const Fact<Record>& fact = facts[column.fact];
    const TextId text = canonical(fact, column.position);
    if (text == 0) continue;
    if (thing == none) {
      bad(fact.column, cells_[column.position],
          "this is said of a " + std::string(kind) + ", and the row names none");
      continue;
    }
    say(table, thing, column.fact, text, fact.column, cells_[column.position],
        std::string(kind) + ' ' + std::string(file_.texts.text(table.name(thing))));
  }
}

std::uint32_t FlatNames::thing_of(FactTable& table, std::size_t fact, std::string_view name) {
  if (name.empty()) return none;
  if (!records::is_label(name)) {
    bad(sowing_facts()[fact].column, name, records::label_trouble(name));
    return none;
  }
  return table.thing(file_.texts, folded(name), file_.texts.id(name), line_);
}

// What the row names; where it names nothing, what earlier rows of the sowing did.
std::string_view FlatNames::named_or_said(std::uint32_t sowing, std::size_t fact) {
  const std::string_view cell = sowing_cell(fact);
  if (!cell.empty() || sowing == none) return cell;
  return file_.texts.text(file_.sowings.said(sowing, fact));
}

std::optional<records::Moment> FlatNames::sown_on_in(std::string_view cell) {
  SheetDate sown = read_moment(cell, dates_);
  if (!sown.moment) {
    bad_day("sown_on", cell, std::move(sown));
    return std::nullopt;
  }
  if (sown.moment->date > today_) {
    bad("sown_on", cell, "that day is still to come; today is " + records::to_text(today_));
    return std::nullopt;
  }
  return sown.moment;
}

std::uint32_t FlatNames::sowing_of(std::string_view label, std::string_view sown_on) {
  if (!records::is_label(label)) {
    bad("sowing", label, records::label_trouble(label));
    return none;
  }
  const std::string key = folded(label);
  const auto read = sown_on_in(sown_on);
  if (!read) {
    file_.broken.insert(key);
    return none;
  }
  const records::Moment sown = *read;
  const std::uint32_t sowing = file_.sowings.thing(
      file_.texts, key + '@' + records::to_text(sown.date), file_.texts.id(label), line_);
  if (sowing == file_.sown_day.size()) {
    file_.sown_day.push_back(static_cast<std::int32_t>(sown.date.time_since_epoch().count()));
    file_.key_label.push_back(file_.texts.id(key));
    file_.untaken.push_back(0);
    file_.spoilt.push_back(0);
  }
  if (sown.minute_of_day)
    say(file_.sowings, sowing, file_.sown_on(), file_.texts.id(records::to_text(sown)), "sown_on",
        sown_on, "the sowing");
  return sowing;
}

void FlatNames::take_lot(std::uint32_t sowing) {
  const std::uint32_t lot = thing_of(file_.lots, lot_, named_or_said(sowing, lot_));
  if (lot != none && sowing != none)
    say(file_.sowings, sowing, lot_, file_.lots.name(lot), "lot", sowing_cell(lot_), "the sowing");
  if (lot != none || sowing == none) {
    say_all(lot_facts(), file_.header.lot, file_.lots, lot, "lot");
    return;
  }
  // Without a lot the crop and the variety are the sowing's own; the rest needs a lot.
  std::vector<FactAt> rest;
  for (const FactAt& column : file_.header.lot) {
    const std::string_view name = lot_facts()[column.fact].column;
    if (name != "crop" && name != "variety") {
      rest.push_back(column);
      continue;
    }
    const TextId text = canonical(lot_facts()[column.fact], column.position);
    if (text != 0)
      say(file_.sowings, sowing, name == "crop" ? crop_ : variety_, text, name,
          cells_[column.position], "the sowing");
  }
  say_all(lot_facts(), rest, file_.lots, none, "lot");
}

void FlatNames::take_treatment(std::uint32_t sowing) {
  std::string name(named_or_said(sowing, treatment_));
  // Hours of soaking without a name: the treatment is named for them.
  for (const FactAt& column : file_.header.treatment) {
    if (!name.empty() || treatment_facts()[column.fact].column != "soak_hours") continue;
    const std::string_view cell = trimmed(cells_[column.position]);
    double hours = 0;
    if (cell.empty() || !read_cell(cell, hours).empty()) continue;
    if (hours < 0 || hours > 1000) {
      bad("soak_hours", cell, "hours of soaking lie between 0 and 1000");
      return;
    }
    name = hours == 0 ? std::string(records::untreated) : "soaked-" + to_cell(hours) + 'h';
  }
  const std::uint32_t treatment = thing_of(file_.treatments, treatment_, name);
  if (treatment != none && sowing != none)
    say(file_.sowings, sowing, treatment_, file_.treatments.name(treatment), "treatment",
        sowing_cell(treatment_), "the sowing");
  for (const FactAt& column : file_.header.treatment) {
    // Soaked for 0 hours is how a spreadsheet says untreated.
    double hours = 1;
    if (records::same_label(name, records::untreated) &&
        treatment_facts()[column.fact].column == "soak_hours" &&
        read_cell(trimmed(cells_[column.position]), hours).empty() && hours == 0)
      continue;
    say_all(treatment_facts(), {column}, file_.treatments, treatment, "treatment");
  }
  const std::uint32_t batch = thing_of(file_.batches, batch_, named_or_said(sowing, batch_));
  if (batch != none) {
    if (sowing != none)
      say(file_.sowings, sowing, batch_, file_.batches.name(batch), "treated_in",
          sowing_cell(batch_), "the sowing");
    if (treatment != none)
      say(file_.batches, batch, file_.batch_treatment(), file_.treatments.name(treatment),
          "treatment", name, "what was treated in " + std::string(sowing_cell(batch_)));
  }
  say_all(batch_facts(), file_.header.batch, file_.batches, batch, "batch (treated_in)");
}

void FlatNames::take_trial(std::uint32_t sowing) {
  const std::uint32_t trial = thing_of(file_.trials, trial_, named_or_said(sowing, trial_));
  if (trial != none && sowing != none)
    say(file_.sowings, sowing, trial_, file_.trials.name(trial), "trial", sowing_cell(trial_),
        "the sowing");
  say_all(trial_facts(), file_.header.trial, file_.trials, trial, "trial");
  const std::string_view block = named_or_said(sowing, block_);
  if (block.empty() || sowing == none) return;
  if (trial == none) {
    bad("block", block, "a block is of a trial, and the row names none");
    return;
  }
  if (!records::is_label(block)) {
    bad("block", block, records::label_trouble(block));
    return;
  }
  const TextId trial_name = file_.trials.name(trial);
  const std::uint32_t thing =
      file_.blocks.thing(file_.texts, folded(file_.texts.text(trial_name)) + ' ' + folded(block),
                         file_.texts.id(block), line_);
  file_.blocks.say(thing, 0, trial_name);
  say(file_.sowings, sowing, block_, file_.blocks.name(thing), "block", block, "the sowing");
}

// What is left of the sowing's columns: those that name nothing else.
void FlatNames::take_own(std::uint32_t sowing) {
  for (const FactAt& column : file_.header.sowing) {
    const std::size_t fact = column.fact;
    if (fact == lot_ || fact == treatment_ || fact == batch_ || fact == trial_ || fact == block_)
      continue;
    if (const TextId text = canonical(sowing_facts()[fact], column.position); text != 0)
      say(file_.sowings, sowing, fact, text, sowing_facts()[fact].column, cells_[column.position],
          "the sowing");
  }
}

template <class Record>
void FlatNames::look_at_all(std::span<const Fact<Record>> facts,
                            const std::vector<FactAt>& columns) {
  for (const FactAt& column : columns) canonical(facts[column.fact], column.position);
}

void FlatNames::look_at(std::span<const std::string_view> cells, std::uint32_t line) {
  cells_ = cells;
  line_ = line;
  if (const std::size_t at = file_.header.at(RowCell::sown_on);
      at != FlatHeader::absent && !trimmed(cells[at]).empty())
    sown_on_in(trimmed(cells[at]));
  look_at_all(sowing_facts(), file_.header.sowing);
  look_at_all(lot_facts(), file_.header.lot);
  look_at_all(treatment_facts(), file_.header.treatment);
  look_at_all(batch_facts(), file_.header.batch);
  look_at_all(trial_facts(), file_.header.trial);
}

FlatNames::Taken FlatNames::take(std::span<const std::string_view> cells, std::uint32_t line) {
  if (same_as_last(cells)) return last_;
  cells_ = cells;
  line_ = line;
  good_ = true;
  const std::string_view label = trimmed(cells[file_.header.at(RowCell::sowing)]);
  const std::string_view sown_on = trimmed(cells[file_.header.at(RowCell::sown_on)]);
  std::uint32_t sowing = none;
  if (!label.empty() || !sown_on.empty()) sowing = sowing_of(label, sown_on);
  if (good_) {
    take_lot(sowing);
    take_treatment(sowing);
    take_trial(sowing);
    if (sowing != none) take_own(sowing);
  }
  last_ = {sowing, good_};
  return last_;
}

}  // namespace plumule::logbook
