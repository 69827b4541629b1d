#include "report/crops.hpp"

#include <fmt/format.h>

#include <map>
#include <vector>

#include "records/names.hpp"
#include "report/parts/number_words.hpp"

namespace plumule::report {

namespace {

// At most one decimal; temperatures come from whole degrees Fahrenheit.
std::string number(double value) {
  const std::string text = fmt::format("{:.1f}", value);
  return text.ends_with(".0") ? text.substr(0, text.size() - 2) : text;
}

std::string value(const crops::Fact& fact) {
  std::string text;
  if (fact.low) {
    const bool fraction = fact.unit == "fraction";
    const auto one = [&](double x) { return fraction ? percent(x) : number(x); };
    text = one(*fact.low);
    if (fact.high && *fact.high != *fact.low) text += " to " + one(*fact.high);
    if (!fraction && !fact.unit.empty()) text += " " + std::string(fact.unit);
  }
  if (!fact.text.empty()) text += (text.empty() ? "" : "; ") + fact.text;
  return text;
}

// Sources are numbered and listed once.
class Sources {
 public:
  std::string mark(const crops::Origin& origin) {
    const auto [at, fresh] =
        numbers_.try_emplace({std::string(origin.source), static_cast<int>(origin.trust)},
                             static_cast<int>(order_.size()) + 1);
    if (fresh) order_.push_back(origin);
    return fmt::format("[{}]", at->second);
  }
  std::string text(const Style& style) const {
    std::string result;
    for (std::size_t i = 0; i < order_.size(); ++i) {
      const auto& origin = order_[i];
      std::string line = fmt::format("[{}] {}", i + 1, origin.source);
      if (origin.trust != crops::Trust::read)
        line += fmt::format(" ({})", crops::words(origin.trust));
      if (!origin.address.empty()) line += fmt::format(" {}", origin.address);
      result += paragraph(style, line, 6, 2);
    }
    return result;
  }

 private:
  std::map<std::pair<std::string, int>, int> numbers_;
  std::vector<crops::Origin> order_;
};

}  // namespace

std::string crop_text(const Style& style, const analysis::CropFacts& finding) {
  const auto& known = *finding.known;
  std::string text =
      toned(style, Tone::strong, fmt::format("{} ({})", known.crop.name, known.crop.botanical)) +
      '\n';
  Sources sources;
  std::string_view topic;
  for (const auto& fact : known.facts) {
    if (fact.topic != topic) {
      topic = fact.topic;
      text += toned(style, Tone::strong, topic) + '\n';
    }
    std::string line = fact.what.empty() ? value(fact) : fact.what + ": " + value(fact);
    line += " " + sources.mark(fact.origin);
    if (!fact.origin.note.empty()) line += fmt::format(" ({})", fact.origin.note);
    text += paragraph(style, line, 4, 2);
  }
  for (const auto& caution : known.cautions)
    text += '\n' + toned(style, Tone::warning,
                         paragraph(style, fmt::format("Caution: {} {}", caution.text,
                                                      sources.mark(caution.origin))));
  return text + '\n' + toned(style, Tone::faint, "Sources") + '\n' + sources.text(style);
}

std::string crop_list_text(const Style& style, const analysis::CropList& list) {
  std::map<std::string_view, std::string> groups;
  for (const auto& crop : list.crops) {
    auto& names = groups[crop.group];
    if (!names.empty()) names += ", ";
    names += crop.name;
  }
  std::string text = hinted(style.hints, fmt::format("{} crops are known.", list.crops.size()),
                            {records::Advice::show_one_crop}) +
                     '\n';
  for (const auto& [group, names] : groups)
    text += '\n' + toned(style, Tone::strong, group) + '\n' + paragraph(style, names + ".", 2);
  return text;
}

std::string unknown_crop(const analysis::CropFacts& finding) {
  std::string text = fmt::format("No crop called \"{}\" is known.", finding.asked);
  if (finding.may_be_meant.empty()) return text;
  std::vector<std::string> near;
  for (const auto& crop : finding.may_be_meant) near.emplace_back(crop.name);
  return text + " Did you mean " + records::listed(near, "or") + "?";
}

}  // namespace plumule::report
