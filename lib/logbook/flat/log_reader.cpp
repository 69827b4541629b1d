#include "logbook/flat/log_reader.hpp"

#include "logbook/flat/named_things.hpp"
#include "logbook/flat/sheet/dates.hpp"
#include "logbook/flat/sheet/degrees.hpp"
#include "logbook/flat/sheet/safe_cells.hpp"
#include "logbook/flat/sheet/strange_columns.hpp"
#include "records/assessment.hpp"
#include "records/letters.hpp"
#include "records/refused.hpp"

namespace plumule::logbook {
namespace {

// What a blank means, said the same way wherever it matters.
constexpr std::string_view where_nobody_looked =
    "write 0 where nothing was up; where nobody looked counted_on is blank too";

class RowReader {
 public:
  RowReader(FlatFile& file, FlatErrors& errors, records::Date today, const ImportOptions& options)
      : file_(file),
        errors_(errors),
        today_(today),
        options_(options),
        names_(file, errors, today, options.dates) {}

  // `unusual` as CsvReader has it.
  void take(std::span<const std::string_view> cells, std::size_t line, bool unusual);

 private:
  std::string_view cell(RowCell which) const {
    const std::size_t at = file_.header.at(which);
    return at == FlatHeader::absent ? std::string_view() : trimmed(cells_[at]);
  }
  void bad(RowCell which, std::string reason, std::vector<records::Hint> hints = {}) {
    good_ = false;
    errors_.add(line_, row_columns[static_cast<std::size_t>(which)], cell(which), std::move(reason),
                std::move(hints));
  }
  bool blank_row() const;
  void refuse_width();
  bool take_unusual();
  void look_at_nameless();
  std::optional<FlatTime> time(RowCell which);
  std::int32_t figure(RowCell which, std::int32_t* high = nullptr);
  double reading(RowCell celsius, RowCell fahrenheit);
  double reading_in(RowCell which, records::Degrees plain, RowCell fahrenheit);
  void take_look(FlatLook look, bool counted);
  bool take_seen(const FlatTime& time);
  void take_ending(const std::optional<FlatTime>& counted_on);

  FlatFile& file_;
  FlatErrors& errors_;
  records::Date today_;
  const ImportOptions& options_;
  FlatNames names_;
  std::vector<std::string_view> meant_;  // the cells of an unusual row
  std::span<const std::string_view> cells_;
  std::uint32_t line_ = 0;
  std::uint32_t sowing_ = 0;
  TextId person_ = 0;
  bool good_ = true;
  std::string last_person_;
  TextId last_person_id_ = 0;
};

bool RowReader::blank_row() const {
  for (const std::string_view one : cells_)
    if (!trimmed(one).empty()) return false;
  return true;
}

// The moment in a cell; none where it is blank or bad.
std::optional<FlatTime> RowReader::time(RowCell which) {
  const std::string_view text = cell(which);
  if (text.empty()) return std::nullopt;
  auto moment = records::parse_moment(text);
  if (!moment) {
    SheetDate read = read_sheet_date(text, options_.dates);
    moment = read.moment;
    if (!moment) {
      bad(which, std::move(read.reason), order_hints(read));
      return std::nullopt;
    }
  }
  if (moment->date > today_) {
    bad(which, "that day is still to come; today is " + records::to_text(today_));
    return std::nullopt;
  }
  return FlatTime{static_cast<std::int32_t>(moment->date.time_since_epoch().count()),
                  static_cast<std::int16_t>(moment->minute_of_day.value_or(-1))};
}

std::int32_t RowReader::figure(RowCell which, std::int32_t* high) {
  const std::string_view text = cell(which);
  if (text.empty()) return FlatLook::blank;
  std::int64_t value = 0;
  std::optional<std::int64_t> top;
  Reason reason = high != nullptr ? read_guess(text, value, top) : read_cell(text, value);
  if (!reason.empty()) {
    if (high != nullptr && reason.ends_with("such as 28..32"))
      reason.append("; ").append(where_nobody_looked);
    bad(which, std::move(reason));
    return FlatLook::blank;
  }
  if (top) *high = static_cast<std::int32_t>(*top);
  return static_cast<std::int32_t>(value);
}

// In C, from a column of C or of F.
double RowReader::reading_in(RowCell which, records::Degrees plain, RowCell fahrenheit) {
  double value = FlatTemperature::none;
  const std::string_view text = cell(which);
  if (text.empty()) return value;
  Reason reason = read_degrees(text, plain, options_.celsius_settled,
                               row_columns[static_cast<std::size_t>(fahrenheit)], value);
  if (reason.empty()) {
    records::Temperature one;
    one.sowing = 1;
    one.spot_c = value;
    try {
      records::check(one);
      return value;
    } catch (const records::Refused& refused) {
      reason = refused.what();
    }
  }
  bad(which, std::move(reason));
  return FlatTemperature::none;
}

double RowReader::reading(RowCell celsius, RowCell fahrenheit) {
  const double of_celsius = reading_in(celsius, records::Degrees::celsius, fahrenheit);
  if (cell(fahrenheit).empty()) return of_celsius;
  const double of_fahrenheit = reading_in(fahrenheit, records::Degrees::fahrenheit, fahrenheit);
  if (of_celsius != of_celsius) return of_fahrenheit;
  if (Reason reason =
          degrees_differ(of_celsius, of_fahrenheit, row_columns[static_cast<std::size_t>(celsius)]);
      !reason.empty())
    bad(fahrenheit, std::move(reason));
  return of_celsius;
}

void RowReader::take_look(FlatLook look, bool counted) {
  if (!counted) {
    bad(RowCell::counted_on, "there is a figure, but not the day of the look");
    return;
  }
  const bool lost_counts = look.lost > 0 || (look.lost == 0 && look.newly == FlatLook::blank);
  if (lost_counts && look.emerged == FlatLook::blank) {
    bad(RowCell::lost, "where some were lost, emerged must say how many ever came up");
    return;
  }
  if (look.lost != FlatLook::blank && look.emerged_high != FlatLook::blank) {
    bad(RowCell::emerged, "a guess cannot be told together with what was lost");
    return;
  }
  if (look.newly != FlatLook::blank && look.emerged_high != FlatLook::blank) {
    bad(RowCell::emerged, "beside newly_emerged the total is no guess; write the middle, or blank");
    return;
  }
  if (look.emerged != FlatLook::blank && look.newly == FlatLook::blank) file_.untaken[sowing_] = 1;
  if (good_) file_.looks.add(look);
}

// Temperatures and notes; whether there were any.
bool RowReader::take_seen(const FlatTime& time) {
  FlatTemperature seen{sowing_,
                       time,
                       person_,
                       reading(RowCell::soil_temp_c, RowCell::soil_temp_f),
                       reading(RowCell::soil_min_c, RowCell::soil_min_f),
                       reading(RowCell::soil_max_c, RowCell::soil_max_f)};
  const auto given = [](double value) { return value == value; };
  const bool measured = given(seen.spot) || given(seen.low) || given(seen.high);
  if (seen.low > seen.high)
    bad(cell(RowCell::soil_min_c).empty() ? RowCell::soil_min_f : RowCell::soil_min_c,
        "the least lies above the most");
  if (measured && good_) file_.temperatures.push_back(seen);
  // A note is kept as it stands, spaces and all.
  const std::size_t at = file_.header.at(RowCell::note);
  const bool noted = !cell(RowCell::note).empty();
  if (noted && good_)
    file_.notes.push_back({sowing_, time.day, person_, file_.texts.id(cells_[at])});
  return measured || noted;
}

void RowReader::take_ending(const std::optional<FlatTime>& counted_on) {
  const std::string_view word = cell(RowCell::ended);
  if (word.empty()) {
    for (const RowCell which : {RowCell::ended_on, RowCell::ended_why})
      if (!cell(which).empty()) bad(which, "how it ended is missing: the column ended is blank");
    return;
  }
  if (folded(word) == "open") {
    file_.kept_open.insert(sowing_);
    return;
  }
  FlatEnding ending;
  if (Reason reason = read_cell(word, ending.kind); !reason.empty()) {
    bad(RowCell::ended, std::move(reason));
    return;
  }
  const auto ended_on = time(RowCell::ended_on);
  if (!good_) return;
  if (!ended_on && !counted_on) {
    bad(RowCell::ended, "the day of its end is missing: give counted_on or ended_on");
    return;
  }
  ending.dated = ended_on.has_value();
  ending.time = ended_on ? *ended_on : *counted_on;
  const std::size_t why = file_.header.at(RowCell::ended_why);
  if (why != FlatHeader::absent) ending.why = file_.texts.id(cells_[why]);
  ending.line = line_;
  const auto [there, made] = file_.endings.try_emplace(sowing_, ending);
  FlatEnding& known = there->second;
  if (made) return;
  if (known.kind != ending.kind) {
    bad(RowCell::ended,
        "another row says that it ended as " + std::string(records::word(known.kind)));
    return;
  }
  if (known.dated && ending.dated && known.time.moment() != ending.time.moment()) {
    bad(RowCell::ended_on,
        "another row says that it ended on " + records::to_text(known.time.moment()));
    return;
  }
  // The day that is given, else the last of the rows that bear it.
  if (ending.dated > known.dated ||
      (ending.dated == known.dated && ending.time.moment() > known.time.moment())) {
    known.time = ending.time;
    known.dated = ending.dated;
    known.line = ending.line;
  }
  if (known.why == 0) known.why = ending.why;
}

// A row of another width: where its sowing can be seen all the same, the course is not complete.
void RowReader::refuse_width() {
  ++file_.rows;
  errors_.add(line_, "", cells_.front(),
              "the row has " + std::to_string(cells_.size()) + " cells where the header has " +
                  std::to_string(file_.header.width) +
                  "; a comma inside a cell needs quotes around the cell");
  const std::size_t at = file_.header.at(RowCell::sowing);
  if (at < cells_.size()) file_.broken.insert(folded(trimmed(cells_[at])));
}

// Takes the apostrophes off that keep a spreadsheet from running a text; false where a control
// character stands in a cell. Where a cell may have lines is for its own rules to say.
bool RowReader::take_unusual() {
  bool sound = true;
  meant_.assign(cells_.begin(), cells_.end());
  for (std::size_t i = 0; i < meant_.size(); ++i) {
    meant_[i] = as_meant(meant_[i]);
    if (file_.header.names[i].empty()) continue;  // it is passed over
    const bool name = i == file_.header.at(RowCell::counted_by);
    const auto control = records::control_in(name ? trimmed(meant_[i]) : meant_[i], !name);
    if (!control) continue;
    sound = false;
    errors_.add(line_, file_.header.names[i], meant_[i],
                "a control character (" + records::code_of(*control) +
                    ") stands in the cell; write it in plain letters");
  }
  cells_ = meant_;
  return sound;
}

// The header does not say of which sowing the row is: its cells are looked at, and no more.
void RowReader::look_at_nameless() {
  names_.look_at(cells_, line_);
  time(RowCell::counted_on);
  std::int32_t high = 0;
  figure(RowCell::emerged, &high);
  figure(RowCell::newly_emerged, &high);
  figure(RowCell::lost);
  figure(RowCell::seedlings);
  reading(RowCell::soil_temp_c, RowCell::soil_temp_f);
  reading(RowCell::soil_min_c, RowCell::soil_min_f);
  reading(RowCell::soil_max_c, RowCell::soil_max_f);
}

void RowReader::take(std::span<const std::string_view> cells, std::size_t line, bool unusual) {
  cells_ = cells;
  line_ = static_cast<std::uint32_t>(line);
  if (cells.size() != file_.header.width) {
    if (!blank_row()) refuse_width();
    return;
  }
  if (trimmed(cells.front()).empty() && blank_row()) return;
  ++file_.rows;
  const bool sound = !unusual || take_unusual();
  if (!file_.header.names_sowings()) return look_at_nameless();
  const FlatNames::Taken taken = names_.take(cells_, line_);
  good_ = taken.good && sound;
  sowing_ = taken.sowing;
  if (sowing_ == FlatNames::none) {
    // A row may say something of a lot, a treatment or a trial alone, if it says no more.
    for (std::size_t i = 0; taken.good && i < row_columns.size(); ++i)
      if (!cell(static_cast<RowCell>(i)).empty()) {
        bad(RowCell::sowing, "the label of the sowing is missing");
        break;
      }
    return;
  }
  const std::string_view person = cell(RowCell::counted_by);
  if (person != last_person_) {
    last_person_ = person;
    last_person_id_ = file_.texts.id(person);
  }
  if (person.size() > 64) bad(RowCell::counted_by, "a name has at most 64 characters");
  person_ = last_person_id_;
  const auto counted_on = time(RowCell::counted_on);
  FlatLook look;
  look.sowing = sowing_;
  look.person = person_;
  look.line = line_;
  look.emerged = figure(RowCell::emerged, &look.emerged_high);
  look.newly = figure(RowCell::newly_emerged, &look.newly_high);
  look.lost = figure(RowCell::lost);
  look.seedlings = figure(RowCell::seedlings);
  if (counted_on) {
    look.day = counted_on->day;
    look.minute = counted_on->minute;
  }
  const bool figures = look.emerged != FlatLook::blank || look.newly != FlatLook::blank ||
                       look.lost != FlatLook::blank || look.seedlings != FlatLook::blank;
  if (good_ && figures) take_look(look, counted_on.has_value());
  const bool seen =
      good_ && take_seen(counted_on ? *counted_on : FlatTime{file_.sown_day[sowing_]});
  if (good_) take_ending(counted_on);
  if (good_ && counted_on && !figures && !seen && cell(RowCell::ended).empty())
    bad(RowCell::emerged, "a look without a figure: " + std::string(where_nobody_looked));
  if (!good_) file_.spoilt[sowing_] = 1;
}

}  // namespace

records::Moment FlatTime::moment() const {
  records::Moment moment{records::Date(std::chrono::days(day)), std::nullopt};
  if (minute >= 0) moment.minute_of_day = minute;
  return moment;
}

FlatFile::FlatFile()
    : lots(lot_facts().size()),
      treatments(treatment_facts().size()),
      trials(trial_facts().size()),
      batches(batch_facts().size() + 1),
      blocks(1),
      sowings(sowing_facts().size() + 1) {}

bool read_flat_file(const Reader& read, const ImportOptions& options, records::Date today,
                    FlatFile& file, FlatErrors& errors, std::vector<std::string>& ignored) {
  CsvReader csv(read);
  if (csv.next()) {
    file.header = read_header(csv.cells(), csv.line(), options, errors);
    StrangeColumns strange(file.header, csv.line(), options, today, csv.separator());
    RowReader rows(file, errors, today, options);
    while (csv.next()) {
      rows.take(csv.cells(), csv.line(), csv.unusual());
      if (strange.any() && csv.cells().size() == file.header.width) strange.look_at(csv.cells());
    }
    strange.judge(errors, ignored);
  } else if (!csv.trouble()) {
    errors.add(1, "", "", "the file is empty; a flat log begins with a row of column names");
    return false;
  }
  if (csv.trouble()) {
    errors.add(csv.trouble()->line, "", "", csv.trouble()->reason);
    return false;
  }
  if (!file.looks.sort()) {
    errors.add(0, "", "", "the rows could not be kept in a temporary file; is the disk full?");
    return false;
  }
  if (!file.broken.empty())
    for (std::uint32_t i = 0; i < file.sowings.size(); ++i)
      if (file.broken.count(std::string(file.texts.text(file.key_label[i]))) != 0)
        file.spoilt[i] = 1;
  return file.header.names_sowings();
}

}  // namespace plumule::logbook
