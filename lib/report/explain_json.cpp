#include "report/explanation.hpp"

#include <nlohmann/json.hpp>

#include "report/parts/json_parts.hpp"

namespace plumule::report {

namespace {

Json entry_json(const analysis::Explanation& entry, HintWords hints) {
  const auto words = [&](std::string_view text, records::Advice after = records::Advice::none) {
    return text_or_null(explained_words(text, after, hints));
  };
  return {{"word", words(entry.word)},
          {"title", words(entry.title)},
          {"meaning", words(entry.meaning, entry.after_meaning)},
          {"formula", words(entry.formula)},
          {"unit", words(entry.unit)},
          {"assumes", words(entry.assumes)},
          {"misleads", words(entry.misleads, entry.after_misleads)},
          {"source", words(entry.source, entry.after_source)},
          {"also", words(entry.also)}};
}

}  // namespace

std::string explain_json(const analysis::Explanation& entry, HintWords hints) {
  return written(entry_json(entry, hints));
}

std::string explain_list_json(const std::vector<const analysis::Explanation*>& entries,
                              HintWords hints) {
  Json list = Json::array();
  for (const auto* entry : entries) list.push_back(entry_json(*entry, hints));
  return written({{"words", list}});
}

}  // namespace plumule::report
