// Any text at all typed as counts of one sowing, a look a line: a pair that is read is written as
// one that reads the same, the rules take the course or say where it breaks, and each refusal is a
// sentence.
#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <string>
#include <string_view>
#include <vector>

#include "cli/showing/hint_words.hpp"
#include "records/count.hpp"
#include "records/course.hpp"
#include "records/refused.hpp"

using namespace plumule;
using namespace plumule::records;

namespace {

void must(bool so) {
  if (!so) std::abort();
}

// The first byte says what was sown and how it is counted.
Sowing sown(std::uint8_t how) {
  Sowing sowing;
  sowing.label = "K3";
  sowing.sown = *parse_moment("2026-04-03");
  sowing.units = 20;
  if ((how & 1) != 0) sowing.units.reset();
  if ((how & 2) != 0) sowing.taken_out = true;
  if ((how & 4) != 0) sowing.ending = Ending{EndingKind::finished, *parse_moment("2026-04-09"), ""};
  return sowing;
}

std::optional<Entered> entered_in(std::string_view line) {
  try {
    const Typed typed = parse_pair(line).typed;
    const Entered& entered = typed.entered;
    // A count of only seedlings has no pair of its own to be written as.
    if (entered.kind != CountKind::seedlings)
      must(parse_pair("K3" + to_text(typed)).typed.entered == entered);
    must(!in_words(entered).empty());
    return entered;
  } catch (const Refused& refused) {
    must(!cli::in_words(refused).empty());
    return std::nullopt;
  }
}

void hold_to_rules(const Sowing& sowing, std::vector<Count>& counts) {
  const auto trouble = derive(sowing, counts);
  if (!trouble) {
    for (std::size_t i = 0; i < counts.size(); ++i) {
      must(i == 0 || counts[i].total >= counts[i - 1].total);
      must(standing_at(counts, i) <= counts[i].total);
      must(!sowing.units || counts[i].total <= *sowing.units);
    }
    return;
  }
  must(trouble->index < counts.size());
  for (const Figures figures : {Figures::shown, Figures::hidden})
    must(!cli::in_words(explain(sowing, counts, *trouble, counts.size() - 1,
                                parse_date("2026-05-01"), figures))
              .empty());
  counts.pop_back();  // as typed, it is not kept
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  if (size == 0) return 0;
  const Sowing sowing = sown(data[0]);
  std::string_view text(reinterpret_cast<const char*>(data) + 1, size - 1);  // NOLINT
  std::vector<Count> counts;
  for (int look = 1; look <= 8 && !text.empty(); ++look) {
    const std::size_t end = std::min(text.find('\n'), text.size());
    const std::string_view line = text.substr(0, end);
    // What a shell passes on ends at a zero.
    if (const auto entered = entered_in(line.substr(0, line.find('\0')))) {
      counts.push_back(
          {Moment::from_minutes(sowing.sown.minutes() + look * 1440, false), *entered});
      hold_to_rules(sowing, counts);
    }
    text.remove_prefix(std::min(end + 1, text.size()));
  }
  return 0;
}
