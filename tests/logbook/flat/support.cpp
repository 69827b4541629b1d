#include "logbook/flat/support.hpp"

#include <algorithm>
#include <cstring>
#include <memory>
#include <vector>

#include "logbook/record/counts.hpp"
#include "logbook/record/histories.hpp"
#include "logbook/record/lots.hpp"
#include "logbook/record/observations.hpp"
#include "logbook/record/sowings.hpp"
#include "logbook/record/treatments.hpp"
#include "logbook/record/trials.hpp"
#include "records/words.hpp"

namespace plumule::tests {
namespace {

template <class Value>
std::string shown(const std::optional<Value>& value) {
  if (!value) return "-";
  if constexpr (std::is_same_v<Value, records::Date> || std::is_same_v<Value, records::Moment>)
    return records::to_text(*value);
  else if constexpr (std::is_floating_point_v<Value>) {
    char text[40];
    std::snprintf(text, sizeof text, "%.17g", *value);
    return text;
  } else
    return std::to_string(*value);
}

std::string lines(std::vector<std::string> parts) {
  std::sort(parts.begin(), parts.end());
  std::string text;
  for (const std::string& part : parts) text += part + '\n';
  return text;
}

std::string of(const records::Lot& lot) {
  std::vector<std::string> parents;
  for (const auto& parent : lot.parents)
    parents.push_back(std::string(word(parent.descent)) + ' ' + parent.lot);
  return "lot " + lot.code + '|' + lot.crop + '|' + lot.variety + '|' + lot.source + '|' +
         shown(lot.harvest_year) + '|' + shown(lot.packed_year) + '|' +
         shown(lot.label_germination) + '|' + shown(lot.label_tested_on) + '|' + lot.coating + '|' +
         lot.seed_treatment + '|' + shown(lot.seeds_per_gram) + '|' +
         std::to_string(lot.irreplaceable) + '|' + lines(parents);
}

std::string of(const records::Treatment& t) {
  return "treatment " + t.label + '|' + shown(t.soak_hours) + '|' + shown(t.water_c) + '|' +
         t.scarification + '|' + shown(t.chill_days) + '|' + shown(t.chill_c) + '|' + t.priming;
}

std::string of(const records::Trial& trial) {
  std::string text = "trial " + trial.code + '|' + trial.question + '|' + shown(trial.closes_on) +
                     '|' + shown(trial.worth) + '|' + std::to_string(trial.blind) + '|';
  for (const auto& block : trial.blocks) text += block + ' ';
  for (const auto& day : trial.inspections) text += records::to_text(day) + ' ';
  return text;
}

std::string of(logbook::Logbook& logbook, const records::History& history) {
  const records::Sowing& s = history.sowing;
  std::string text =
      "sowing " + s.label + '|' + records::to_text(s.sown) + '|' + s.lot + '|' + s.crop + '|' +
      s.variety + '|' + s.treatment + '|' + s.batch + '|' + s.trial + '|' + s.block + '|' +
      std::string(word(s.units_known)) + '|' + shown(s.units) + '|' + shown(s.grams) + '|' +
      shown(s.metres) + '|' + std::string(word(s.unit)) + '|' + std::to_string(s.seeds_per_cell) +
      '|' + std::string(word(s.counting)) + '|' + shown(s.wetted) + '|' +
      std::string(word(s.setting)) + '|' + std::to_string(s.taken_out) + '|' + shown(s.depth_mm) +
      '|' + s.medium + '|' + s.place + '|' + std::to_string(s.bench_order) + '|';
  if (s.ending)
    text += std::string(word(s.ending->kind)) + ' ' + records::to_text(s.ending->at) + ' ' +
            s.ending->why;
  if (const auto batch = logbook::find_batch(logbook, s.batch))
    text += "|batch " + batch->treatment + ' ' + shown(batch->made_on);
  text += '\n';
  for (const records::Count& count : logbook::counts_of(logbook, s.id))
    text += "  " + records::to_text(count.at) + ' ' + records::to_text(count.entered) + ' ' +
            std::to_string(count.total) + ' ' + count.by + '\n';
  std::vector<std::string> seen;
  for (const auto& one : logbook::temperatures_of(logbook, s.id))
    seen.push_back("  " + records::to_text(one.at) + " C " + shown(one.spot_c) + ' ' +
                   shown(one.min_c) + ' ' + shown(one.max_c) + ' ' + one.by);
  for (const auto& note : logbook::notes_of(logbook, records::About::sowing, s.id))
    seen.push_back("  " + records::to_text(note.on) + " note " + note.text + " by " + note.by);
  return text + lines(seen);
}

}  // namespace

logbook::Reader reader_of(std::string_view text, std::size_t step) {
  auto kept = std::make_shared<std::string>(text);
  auto at = std::make_shared<std::size_t>(0);
  return [kept, at, step](char* into, std::size_t size) {
    const std::size_t count = std::min({size, step, kept->size() - *at});
    std::memcpy(into, kept->data() + *at, count);
    *at += count;
    return count;
  };
}

logbook::ImportSummary import_text(logbook::Logbook& logbook, std::string_view text,
                                   const logbook::ImportOptions& options,
                                   const std::string& today) {
  logbook::Entry entry(logbook, "tester", "import flat.csv", *records::parse_date(today));
  auto summary = logbook::import_flat_log(entry, reader_of(text), options);
  if (summary.errors_in_all == 0) entry.commit();
  return summary;
}

std::string export_text(logbook::Logbook& logbook) {
  std::string text;
  logbook::export_flat_log(logbook, [&text](std::string_view part) { text += part; });
  return text;
}

std::string errors_of(const logbook::ImportSummary& summary) {
  std::string text;
  for (const auto& error : summary.errors) {
    text +=
        std::to_string(error.line) + ':' + error.column + ':' + error.value + ':' + error.reason;
    for (const auto& hint : error.hints)
      text += " [" + (hint.name.empty() ? "hint" : hint.name) +
              (hint.at ? ' ' + records::to_text(*hint.at) : "") + ']';
    text += '\n';
  }
  return text;
}

std::string picture(logbook::Logbook& logbook) {
  std::vector<std::string> parts;
  for (const auto& lot : logbook::lots(logbook)) parts.push_back(of(lot));
  for (const auto& treatment : logbook::treatments(logbook)) parts.push_back(of(treatment));
  for (const auto& trial : logbook::trials(logbook)) parts.push_back(of(trial));
  for (const auto& history : logbook::histories(logbook, {})) parts.push_back(of(logbook, history));
  return lines(parts);
}

std::string difference(const std::string& a, const std::string& b) {
  if (a == b) return "";
  const auto line_at = [](const std::string& text, std::size_t at) {
    const std::size_t before = at == 0 ? std::string::npos : text.rfind('\n', at - 1);
    const std::size_t begin = before == std::string::npos ? 0 : before + 1;
    return text.substr(begin, text.find('\n', at) - begin);
  };
  std::size_t at = 0;
  while (at < a.size() && at < b.size() && a[at] == b[at]) ++at;
  return line_at(a, at) + "\n" + line_at(b, at);
}

}  // namespace plumule::tests
