#include "logbook/flat/facts.hpp"

#include <array>
#include <type_traits>
#include <utility>

#include "logbook/flat/sheet/degrees.hpp"
#include "records/label.hpp"

namespace plumule::logbook {
namespace {

using records::Batch;
using records::Lot;
using records::Sowing;
using records::Treatment;
using records::Trial;

template <auto Member, class Record>
std::string get(const Record& record) {
  return to_cell(record.*Member);
}
template <auto Member, class Record>
Reason set(Record& record, std::string_view cell) {
  return read_cell(cell, record.*Member);
}
template <auto Member, class Record>
bool unset(const Record& record) {
  return to_cell(record.*Member).empty();
}
template <auto Member, class Record>
bool as_made(const Record& record) {
  return record.*Member == Record{}.*Member;
}

template <auto Member, class Record>
constexpr Holds held() {
  using Value = std::remove_cvref_t<decltype(std::declval<Record&>().*Member)>;
  constexpr auto is = []<class... Any>() { return (std::is_same_v<Value, Any> || ...); };
  if (is.template operator()<std::string>()) return Holds::text;
  if (is.template operator()<std::optional<records::Date>, std::optional<records::Moment>>())
    return Holds::day;
  if (is.template operator()<std::vector<records::Date>>()) return Holds::days;
  return Holds::figure;
}

template <auto Member, class Record>
constexpr Fact<Record> plain(std::string_view column) {
  return {column, get<Member, Record>, set<Member, Record>, unset<Member, Record>,
          held<Member, Record>()};
}
// A field that always has a value, of which the most common need not be written.
template <auto Member, class Record>
constexpr Fact<Record> with_usual(std::string_view column) {
  return {column, get<Member, Record>, set<Member, Record>, as_made<Member, Record>};
}
// A label in a field of text.
template <auto Member, class Record>
Reason set_label(Record& record, std::string_view cell) {
  if (!records::is_label(cell)) return records::label_trouble(cell);
  record.*Member = std::string(cell);
  return {};
}
template <auto Member, class Record>
constexpr Fact<Record> label(std::string_view column) {
  return {column, get<Member, Record>, set_label<Member, Record>, as_made<Member, Record>};
}

// A temperature of water or of a cold room: a plain figure is Celsius, as its column says.
template <auto Member, class Record>
Reason set_degrees(Record& record, std::string_view cell) {
  double celsius = 0;
  Reason reason = read_degrees(cell, records::Degrees::celsius, true, {}, celsius);
  if (reason.empty()) record.*Member = celsius;
  return reason;
}
template <auto Member, class Record>
constexpr Fact<Record> degrees(std::string_view column) {
  return {column, get<Member, Record>, set_degrees<Member, Record>, unset<Member, Record>};
}

std::string get_germination(const Lot& lot) { return to_cell(lot.label_germination); }
// As a fraction, or in percent with its sign.
Reason set_germination(Lot& lot, std::string_view cell) {
  const bool percent = !cell.empty() && cell.back() == '%';
  double value = 0;
  if (Reason reason = read_cell(percent ? trimmed(cell.substr(0, cell.size() - 1)) : cell, value);
      !reason.empty())
    return reason;
  if (!percent && value > 1)
    return '"' + std::string(cell) + "\" is no fraction; write 0.85 or 85%";
  lot.label_germination = percent ? value / 100 : value;
  return {};
}

Reason set_units(Sowing& sowing, std::string_view cell) {
  std::int64_t units = 0;
  Reason reason = read_cell(cell, units);
  if (reason.ends_with("whole number")) reason += "; leave the cell blank where it is not known";
  if (!reason.empty()) return reason;
  if (units == 0) return "0 sown cannot be; leave the cell blank where the number is not known";
  sowing.units = units;
  sowing.units_known = records::UnitsKnown::exact;
  return {};
}
bool units_as_known(const Sowing& sowing) {
  return sowing.units_known != records::UnitsKnown::estimated;
}
std::string get_estimated(const Sowing& sowing) { return to_cell(sowing.units_known); }

std::string get_order(const Sowing& sowing) { return to_cell(sowing.bench_order); }
Reason set_order(Sowing& sowing, std::string_view cell) {
  const bool below = !cell.empty() && cell[0] == '-';
  Reason reason = read_cell(below ? cell.substr(1) : cell, sowing.bench_order);
  if (below) sowing.bench_order = -sowing.bench_order;
  return reason;
}
bool taken_out_as_usual(const Sowing& sowing) {
  return sowing.taken_out == (sowing.setting == records::Setting::towel);
}

constexpr std::array lots{
    plain<&Lot::crop, Lot>("crop"),
    plain<&Lot::variety, Lot>("variety"),
    plain<&Lot::source, Lot>("source"),
    plain<&Lot::parents, Lot>("parents"),
    plain<&Lot::harvest_year, Lot>("harvest_year"),
    plain<&Lot::packed_year, Lot>("packed_year"),
    Fact<Lot>{"label_germination", get_germination, set_germination,
              unset<&Lot::label_germination, Lot>},
    plain<&Lot::label_tested_on, Lot>("label_tested_on"),
    plain<&Lot::coating, Lot>("coating"),
    plain<&Lot::seed_treatment, Lot>("seed_treatment"),
    plain<&Lot::seeds_per_gram, Lot>("seeds_per_gram"),
    with_usual<&Lot::irreplaceable, Lot>("irreplaceable"),
};
constexpr std::array treatments{
    plain<&Treatment::soak_hours, Treatment>("soak_hours"),
    degrees<&Treatment::water_c, Treatment>("water_c"),
    plain<&Treatment::scarification, Treatment>("scarification"),
    plain<&Treatment::chill_days, Treatment>("chill_days"),
    degrees<&Treatment::chill_c, Treatment>("chill_c"),
    plain<&Treatment::priming, Treatment>("priming"),
};
constexpr std::array batches{
    plain<&Batch::made_on, Batch>("treated_on"),
};
constexpr std::array trials{
    plain<&Trial::question, Trial>("question"),
    plain<&Trial::blocks, Trial>("blocks"),
    plain<&Trial::inspections, Trial>("inspections"),
    plain<&Trial::closes_on, Trial>("closes_on"),
    plain<&Trial::worth, Trial>("worth"),
    with_usual<&Trial::blind, Trial>("blind"),
};
constexpr std::array sowings{
    label<&Sowing::lot, Sowing>("lot"),
    plain<&Sowing::crop, Sowing>("sowing_crop"),
    plain<&Sowing::variety, Sowing>("sowing_variety"),
    label<&Sowing::trial, Sowing>("trial"),
    label<&Sowing::block, Sowing>("block"),
    label<&Sowing::treatment, Sowing>("treatment"),
    label<&Sowing::batch, Sowing>("treated_in"),
    plain<&Sowing::wetted, Sowing>("wetted_on"),
    Fact<Sowing>{"seeds", get<&Sowing::units, Sowing>, set_units, unset<&Sowing::units, Sowing>},
    Fact<Sowing>{"seeds_known", get_estimated, set<&Sowing::units_known, Sowing>, units_as_known},
    plain<&Sowing::grams, Sowing>("grams"),
    plain<&Sowing::metres, Sowing>("metres"),
    with_usual<&Sowing::unit, Sowing>("unit"),
    with_usual<&Sowing::seeds_per_cell, Sowing>("seeds_per_cell"),
    with_usual<&Sowing::counting, Sowing>("counting"),
    with_usual<&Sowing::setting, Sowing>("setting"),
    Fact<Sowing>{"taken_out", get<&Sowing::taken_out, Sowing>, set<&Sowing::taken_out, Sowing>,
                 taken_out_as_usual},
    plain<&Sowing::depth_mm, Sowing>("depth_mm"),
    plain<&Sowing::medium, Sowing>("medium"),
    plain<&Sowing::place, Sowing>("place"),
    Fact<Sowing>{"bench_order", get_order, set_order, as_made<&Sowing::bench_order, Sowing>},
};

}  // namespace

std::span<const Fact<Lot>> lot_facts() { return lots; }
std::span<const Fact<Treatment>> treatment_facts() { return treatments; }
std::span<const Fact<Batch>> batch_facts() { return batches; }
std::span<const Fact<Trial>> trial_facts() { return trials; }
std::span<const Fact<Sowing>> sowing_facts() { return sowings; }

Sowing unsaid_sowing() {
  Sowing sowing;
  sowing.units_known = records::UnitsKnown::unknown;
  return sowing;
}

}  // namespace plumule::logbook
