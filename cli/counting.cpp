// What the record made of a figure is read back from it, not guessed.
#include "cli/counting.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "cli/showing/hint_words.hpp"
#include "cli/showing/wording.hpp"
#include "crops/clusters.hpp"
#include "crops/names.hpp"
#include "logbook/record/aside.hpp"
#include "logbook/record/trials.hpp"
#include "records/refused.hpp"

namespace plumule::cli {
namespace {

// Whether what was typed as up in all could as well be what stands now.
bool could_stand(const records::Sowing& sowing, std::vector<records::Count> counts,
                 const records::Moment& at) {
  for (records::Count& count : counts) {
    if (count.at.minutes() != at.minutes()) continue;
    const records::Entered& entered = count.entered;
    if (entered.kind != records::CountKind::total || entered.high || entered.seedlings)
      return false;
    count.entered.kind = records::CountKind::standing;
  }
  return !records::derive(sowing, counts);
}

// What the second reading just kept is called.
std::string second_reading_of(logbook::Entry& entry, const records::Sowing& sowing,
                              const records::Count& count) {
  for (const records::SetAside& kept : logbook::second_readings_of(entry.logbook(), sowing.id))
    if (kept.count.at == count.at && kept.count.entered == count.entered &&
        kept.count.by == count.by)
      return 'r' + std::to_string(kept.id);
  return "ID";
}

// What stands, where some were lost at an earlier look: what was typed does not add up by itself.
std::string standing_words(const Noted& noted) {
  const records::Entered& entered = noted.count.entered;
  const std::int64_t lost = noted.lost_before + entered.lost;
  const std::string standing = std::to_string(noted.count.total - lost);
  if (entered.kind == records::CountKind::standing)
    return "; " + standing + " standing, " + std::to_string(lost) + " lost in all, " +
           (entered.lost == 0 ? "none" : std::to_string(entered.lost) + " of them") + " since " +
           day_of(noted.before->at, noted.count.at.date);
  std::string text = ", " + standing + " of them standing";
  if (noted.may_stand && noted.fate == Fate::saved)
    text += fmt::format("; are {1} standing? plumule amend {0} --on {2} ={1}-0",
                        name_of(noted.sowing), entered.value, records::to_text(noted.count.at));
  return text;
}

}  // namespace

std::optional<records::Count> look_before(const std::vector<records::Count>& counts,
                                          const records::Moment& at) {
  std::optional<records::Count> found;
  for (const records::Count& count : counts)
    if (count.at.minutes() < at.minutes()) found = count;
  return found;
}

std::optional<records::Count> look_at(const std::vector<records::Count>& counts,
                                      const records::Moment& at) {
  for (const records::Count& count : counts)
    if (count.at.minutes() == at.minutes()) return count;
  return {};
}

std::int64_t lost_before(const std::vector<records::Count>& counts, const records::Moment& at) {
  std::int64_t lost = 0;
  for (const records::Count& count : counts)
    if (count.at.minutes() < at.minutes()) lost += count.entered.lost;
  return lost;
}

Noted note_count(logbook::Entry& entry, const records::Sowing& sowing, const records::Moment& at,
                 const records::Entered& entered) {
  Noted noted;
  noted.sowing = sowing;
  noted.blind = logbook::is_blind(entry.logbook(), sowing.trial);
  noted.count.at = at;
  noted.count.entered = entered;
  noted.count.by = entry.by();
  switch (logbook::record_count(entry, sowing, noted.count)) {
    case logbook::Kept::saved:
      break;
    case logbook::Kept::nothing_new:
      noted.fate = Fate::nothing_new;
      break;
    case logbook::Kept::second_reading:
      noted.fate = Fate::second_reading;
      break;
  }
  const std::vector<records::Count> counts = logbook::counts_of(entry.logbook(), sowing.id);
  noted.before = look_before(counts, at);
  noted.lost_before = lost_before(counts, at);
  noted.may_stand = noted.lost_before > 0 && could_stand(sowing, counts, at);
  if (noted.fate == Fate::second_reading)
    noted.aside = second_reading_of(entry, sowing, noted.count);
  else if (const auto kept = look_at(counts, at))
    noted.count = *kept;
  return noted;
}

Noted note_doubtful(logbook::Entry& entry, const records::Sowing& sowing, const records::Moment& at,
                    const records::Entered& entered, const std::string& why) {
  Noted noted;
  noted.sowing = sowing;
  noted.blind = logbook::is_blind(entry.logbook(), sowing.trial);
  noted.count.at = at;
  noted.count.entered = entered;
  noted.count.by = entry.by();
  noted.fate = Fate::doubtful;
  noted.why = why;
  if (noted.why.empty()) {
    std::vector<records::Count> counts = logbook::counts_of(entry.logbook(), sowing.id);
    noted.why = "said to be doubtful";
    if (!look_at(counts, at)) {
      std::size_t place = 0;
      while (place < counts.size() && counts[place].at.minutes() < at.minutes()) ++place;
      counts.insert(counts.begin() + static_cast<std::ptrdiff_t>(place), noted.count);
      if (const auto trouble = records::derive(sowing, counts))
        noted.why = in_words(
            records::explain(sowing, counts, *trouble, place, {},
                             noted.blind ? records::Figures::hidden : records::Figures::shown));
    }
  }
  noted.aside = 'd' + std::to_string(logbook::keep_doubtful(entry, sowing, noted.count, noted.why));
  return noted;
}

std::string in_words(const Noted& noted) {
  if (noted.fate == Fate::doubtful)
    return in_words(noted.count.entered) + ": kept as doubtful, in no figure; " +
           settling(noted.sowing, noted.aside);
  if (noted.fate == Fate::second_reading)
    return in_words(noted.count.entered) + ": a second reading, kept beside the first; " +
           settling(noted.sowing, noted.aside);
  std::string text;
  const auto& entered = noted.count.entered;
  if (noted.blind) {
    text = in_words(entered);
  } else if (entered.kind == records::CountKind::seedlings && entered.seedlings &&
             noted.count.total == 0) {
    text = number_of(*entered.seedlings, "seedling") + ", units not counted";
  } else {
    text = up_of(noted.sowing, noted.count.total);
    const std::int64_t before = noted.before ? noted.before->total : 0;
    if (noted.count.total > before)
      text += " (+" + std::to_string(noted.count.total - before) + ")";
    if (noted.lost_before > 0 && !entered.high)
      text += standing_words(noted);
    else if (entered.kind == records::CountKind::standing || entered.high)
      text += ", " + in_words(entered);
    if (entered.seedlings && !entered.high)
      text += ", " + number_of(*entered.seedlings, "seedling");
  }
  // In a blind trial that would tell what another person counted.
  return noted.fate == Fate::nothing_new && !noted.blind ? text + ": stood there already" : text;
}

std::string settling(const records::Sowing& sowing, const std::string& aside) {
  return fmt::format("plumule amend {} --keep {}, or --discard {}, settles it", name_of(sowing),
                     aside, aside);
}

std::string doubt_of_clusters(const Noted& noted) {
  const records::Sowing& sowing = noted.sowing;
  const auto seedlings = noted.count.entered.seedlings;
  if (sowing.unit != records::UnitKind::cluster || noted.blind || noted.count.total < 1 ||
      !seedlings)
    return {};
  const crops::Crop* crop = crops::find_crop(sowing.crop).crop;
  std::optional<double> most;
  if (crop != nullptr)
    for (const crops::Cluster& cluster : crops::clusters_of(*crop))
      most = std::max(most.value_or(0), cluster.seedlings_high.value_or(cluster.seedlings_low));
  const double each = static_cast<double>(*seedlings) / static_cast<double>(noted.count.total);
  if (!most || each <= *most + 0.5) return {};  // half a seedling more is chance
  return fmt::format(
      "{}: {} from {} is {:.1f} each; of {} {:g} at most is published. It is kept. A slip? plumule "
      "amend {} --on {} =UNITS/SEEDLINGS",
      name_of(sowing), number_of(*seedlings, "seedling"), number_of(noted.count.total, "cluster"),
      each, sowing.crop, *most, name_of(sowing), records::to_text(noted.count.at));
}

Json to_json(const Noted& noted) {
  constexpr const char* fates[] = {"saved", "nothing-new", "second-reading", "doubtful"};
  Json out{{"sowing", noted.sowing.label}, {"sown_on", records::to_text(noted.sowing.sown)}};
  out.update(to_json(noted.count));
  const bool counted = noted.fate == Fate::saved || noted.fate == Fate::nothing_new;
  const bool known = !noted.blind || noted.count.entered.kind == records::CountKind::total;
  if (!counted || !known) out["emerged"] = nullptr;
  out["newly_emerged"] = counted && !noted.blind
                             ? Json(noted.count.total - (noted.before ? noted.before->total : 0))
                             : Json();
  out["units"] = or_null(noted.sowing.units);
  out["kept"] = fates[static_cast<int>(noted.fate)];
  out["why"] = or_null(noted.why);
  return out;
}

}  // namespace plumule::cli
