// What came of a figure, in words and as JSON.
#include "cli/showing/count_words.hpp"

#include <fmt/format.h>

#include <nlohmann/json.hpp>

#include "cli/showing/wording.hpp"

namespace plumule::cli {
namespace {

using bench::Fate;
using bench::Noted;

// What stands, where some were lost at an earlier look: what was typed does not add up by itself.
std::string standing_words(const Noted& noted) {
  const records::Entered& entered = noted.count.entered;
  const std::int64_t lost = noted.lost_before + entered.lost;
  const std::string standing = std::to_string(noted.count.total - lost);
  if (entered.kind == records::CountKind::standing)
    return "; " + standing + (noted.taken_as_standing ? " taken as standing, " : " standing, ") +
           std::to_string(lost) + " lost in all, " +
           (entered.lost == 0 ? "none" : std::to_string(entered.lost) + " of them") + " since " +
           records::spoken(noted.before->at, noted.count.at.date);
  return ", " + standing + " of them standing";
}

}  // namespace

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
    if (noted.taken_as_standing) text += " since the last look (so the number was taken)";
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
  const auto many = bench::many_seedlings(noted);
  if (!many) return {};
  const records::Sowing& sowing = noted.sowing;
  return fmt::format(
      "{}: {} from {} is {:.1f} each; of {} {:g} at most is published. It is kept. A slip? plumule "
      "amend {}=UNITS/SEEDLINGS --on {}",
      name_of(sowing), number_of(*noted.count.entered.seedlings, "seedling"),
      number_of(noted.count.total, "cluster"), many->each, sowing.crop, many->most_published,
      name_of(sowing), records::to_text(noted.count.at));
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
