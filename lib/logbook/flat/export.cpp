// Writing the flat log: sowings, looks, temperatures and notes are read side by side in the order
// of the sowings, so that memory does not grow with the logbook.
#include "logbook/flat/export.hpp"

#include <array>

#include "logbook/flat/log.hpp"
#include "logbook/flat/sheet/degrees.hpp"
#include "logbook/record/sowing_rows.hpp"
#include "logbook/store/one_moment.hpp"
#include "logbook/store/scan.hpp"
#include "records/count.hpp"
#include "records/words.hpp"

namespace plumule::logbook {
namespace {

// What was seen at one moment of a sowing, as far as one row can hold it.
struct Seen {
  records::Moment at;
  std::string by;
  const records::Count* count = nullptr;
  std::optional<double> spot, low, high;
  bool measured = false;
  std::string note;
};

class Exporter {
 public:
  Exporter(Logbook& logbook, const Writer& write);
  void write_all();

 private:
  void gather_counts(records::Id sowing);
  void gather_temperatures(records::Id sowing);
  void gather_notes(records::Id sowing);
  void write_seen(const Seen& seen, bool last);
  void write_figures(const records::Entered& entered, std::int64_t total);
  void write_ending(bool last, const records::Moment* at);
  void cell_if(bool column, std::string_view figure) {
    if (!column) return;
    csv_.raw(',');
    csv_.cell(figure);
  }
  void text_if(bool column, std::string_view text) {
    if (!column) return;
    text_ = ',';
    append_text(text_, text);
    csv_.raw(text_);
  }
  void number_if(bool column, const std::optional<std::int64_t>& value) {
    if (!column) return;
    csv_.raw(',');
    if (value) csv_.number(*value);
  }

  FlatLayout layout_;
  Query sowings_;
  Scan counts_;
  Query temperatures_;
  Query notes_;
  bool more_counts_, more_temperatures_, more_notes_;
  CsvWriter csv_;
  std::vector<records::Count> course_;
  std::vector<Seen> seen_;
  std::string cells_;
  std::string text_;                       // the cell that is being written
  std::optional<records::Ending> ending_;  // of the sowing
  bool kept_open_ = false;                 // it is open, though its label was sown again
};

Exporter::Exporter(Logbook& logbook, const Writer& write)
    : layout_(logbook),
      sowings_(logbook.store(), select_sowing + "order by s.id"),
      counts_(logbook.store(),
              "select c.sowing, c.at, c.timed, c.kind, c.value, c.high, c.lost, c.seedlings, "
              "c.total, p.name from counts c left join people p on p.id = c.person "
              "order by c.sowing, c.at"),
      temperatures_(logbook.store(),
                    "select t.sowing, t.day, t.time, t.spot_c, t.min_c, t.max_c, p.name from "
                    "temperatures t left join people p on p.id = t.person where t.sowing is not "
                    "null order by t.sowing, t.day, t.time, t.spot_c is null, t.spot_c, "
                    "t.min_c, t.max_c, p.name"),
      notes_(logbook.store(),
             "select n.of, n.day, n.text, p.name from notes n left join people p on p.id = "
             "n.person where n.about = 'sowing' order by n.of, n.day, n.id"),
      more_counts_(counts_.next()),
      more_temperatures_(temperatures_.next()),
      more_notes_(notes_.next()),
      csv_(write) {}

void Exporter::gather_counts(records::Id sowing) {
  course_.clear();
  for (; more_counts_ && counts_.integer(0) == sowing; more_counts_ = counts_.next()) {
    records::Count& count = course_.emplace_back();
    count.at = records::Moment::from_minutes(counts_.integer(1), counts_.integer(2) != 0);
    count.entered.kind = static_cast<records::CountKind>(counts_.integer(3));
    count.entered.value = counts_.integer(4);
    count.entered.high = counts_.maybe_integer(5);
    count.entered.lost = counts_.integer(6);
    count.entered.seedlings = counts_.maybe_integer(7);
    count.total = counts_.integer(8);
    if (layout_.look.person) count.by = counts_.text(9);
  }
  seen_.clear();
  for (const records::Count& count : course_) {
    Seen& seen = seen_.emplace_back();
    seen.at = count.at;
    seen.by = count.by;
    seen.count = &count;
  }
}

// A reading or a note goes beside the look of its moment if the same person made it; else it has a
// row of its own.
void Exporter::gather_temperatures(records::Id sowing) {
  for (; more_temperatures_ && temperatures_.integer(0) == sowing;
       more_temperatures_ = temperatures_.next()) {
    const records::Moment at = temperatures_.moment(1);
    const std::string by = temperatures_.text(6);
    Seen* place = nullptr;
    for (Seen& seen : seen_)
      if (seen.at == at && seen.by == by && !seen.measured) place = &seen;
    if (place == nullptr) {
      place = &seen_.emplace_back();
      place->at = at;
      place->by = by;
    }
    place->measured = true;
    place->spot = temperatures_.maybe_real(3);
    place->low = temperatures_.maybe_real(4);
    place->high = temperatures_.maybe_real(5);
  }
}

void Exporter::gather_notes(records::Id sowing) {
  for (; more_notes_ && notes_.integer(0) == sowing; more_notes_ = notes_.next()) {
    const records::Date day = notes_.date(1);
    const std::string by = notes_.text(3);
    Seen* place = nullptr;
    for (Seen& seen : seen_)
      if (seen.at.date == day && seen.by == by && seen.note.empty()) place = &seen;
    if (place == nullptr) {
      place = &seen_.emplace_back();
      place->at.date = day;
      place->by = by;
    }
    place->note = notes_.text(2);
  }
}

void Exporter::write_figures(const records::Entered& entered, std::int64_t total) {
  const auto guess = [this](std::int64_t low, const std::optional<std::int64_t>& high) {
    csv_.number(low);
    if (!high) return;
    csv_.raw("..");
    csv_.number(*high);
  };
  const LookColumns& look = layout_.look;
  csv_.raw(',');
  if (entered.kind == records::CountKind::total)
    guess(entered.value, entered.high);
  else if (entered.kind != records::CountKind::seedlings)
    csv_.number(total);
  if (look.newly) {
    csv_.raw(',');
    if (entered.kind == records::CountKind::newly) guess(entered.value, entered.high);
  }
  number_if(look.lost, entered.kind == records::CountKind::standing ? std::optional(entered.lost)
                                                                    : std::nullopt);
  number_if(look.seedlings, entered.seedlings);
}

// How the sowing ended is told at its last look.
void Exporter::write_ending(bool last, const records::Moment* at) {
  const LookColumns& look = layout_.look;
  const records::Ending* const ending = last && ending_ ? &*ending_ : nullptr;
  cell_if(look.ended, ending               ? word(ending->kind)
                      : last && kept_open_ ? std::string_view("open")
                                           : std::string_view());
  const bool dated = ending && !(at && ending->at == *at);
  cell_if(look.ended_on, dated ? records::to_text(ending->at) : std::string());
  text_if(look.ended_why, ending ? std::string_view(ending->why) : std::string_view());
}

void Exporter::write_seen(const Seen& seen, bool last) {
  const LookColumns& look = layout_.look;
  csv_.raw(cells_);
  csv_.raw(',');
  csv_.moment(seen.at);
  if (seen.count) {
    write_figures(seen.count->entered, seen.count->total);
  } else {
    csv_.raw(',');
    for (const bool column : {look.newly, look.lost, look.seedlings})
      if (column) csv_.raw(',');
  }
  cell_if(look.spot, seen.spot ? degrees_cell(*seen.spot) : std::string());
  cell_if(look.low, seen.low ? degrees_cell(*seen.low) : std::string());
  cell_if(look.high, seen.high ? degrees_cell(*seen.high) : std::string());
  text_if(look.person, seen.by);
  write_ending(last, &seen.at);
  text_if(look.note, seen.note);
  csv_.end_row();
}

void Exporter::write_all() {
  csv_.raw(layout_.header());
  csv_.end_row();
  const LookColumns& look = layout_.look;
  while (sowings_.next()) {
    const records::Sowing sowing = sowing_in(sowings_);
    cells_ = layout_.sowing_cells(sowing);
    ending_ = sowing.ending;
    kept_open_ = layout_.kept_open.count(sowing.id) != 0;
    gather_counts(sowing.id);
    gather_temperatures(sowing.id);
    gather_notes(sowing.id);
    if (course_.empty()) {
      // Not looked at: one row without a look, which says how it ended, if it did.
      csv_.raw(cells_);
      csv_.raw(",,");
      for (const bool column :
           {look.newly, look.lost, look.seedlings, look.spot, look.low, look.high, look.person})
        if (column) csv_.raw(',');
      write_ending(true, nullptr);
      cell_if(look.note, "");
      csv_.end_row();
    }
    for (std::size_t i = 0; i < seen_.size(); ++i) write_seen(seen_[i], i + 1 == course_.size());
  }
  for (const std::string& row : layout_.rows_of_unsown()) {
    csv_.raw(row);
    csv_.end_row();
  }
  csv_.flush();
}

}  // namespace

std::vector<std::string> not_carried(Logbook& logbook) {
  struct Kind {
    const char* count;
    const char* one;
    const char* several;
  };
  static constexpr std::array kinds{
      Kind{"corrections where undone_at is null", "correction", "corrections"},
      Kind{"second_readings", "second reading", "second readings"},
      Kind{"doubtful_counts", "doubtful count", "doubtful counts"},
      Kind{"assessments", "assessment", "assessments"},
      Kind{"stock", "line of stock", "lines of stock"},
      Kind{"storage", "place of storage", "places of storage"},
      Kind{"moves", "move", "moves"},
      Kind{"photographs", "photograph", "photographs"},
      Kind{"temperatures where sowing is null", "temperature of a place", "temperatures of places"},
      Kind{"notes where about <> 'sowing'", "note on a lot, trial or treatment",
           "notes on lots, trials or treatments"},
      Kind{"journal", "journal entry", "journal entries"},
  };
  std::vector<std::string> left;
  for (const Kind& kind : kinds) {
    Query find(logbook.store(), std::string("select count(*) from ") + kind.count);
    const std::int64_t n = find.next() ? find.integer(0) : 0;
    if (n > 0) left.push_back(std::to_string(n) + ' ' + (n == 1 ? kind.one : kind.several));
  }
  return left;
}

std::vector<std::string> export_flat_log(Logbook& logbook, const Writer& write) {
  const OneMoment still(logbook.store());  // layout, rows and what is left out agree
  Exporter(logbook, write).write_all();
  return not_carried(logbook);
}

}  // namespace plumule::logbook
