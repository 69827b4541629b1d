#include "report/crops_json.hpp"

#include <nlohmann/json.hpp>

namespace plumule::report {

namespace {

Json name_json(const crops::Crop& crop) {
  Json synonyms = Json::array();
  for (const auto synonym : crop.synonyms) synonyms.push_back(std::string(synonym));
  return {{"slug", std::string(crop.slug)},
          {"name", std::string(crop.name)},
          {"botanical", std::string(crop.botanical)},
          {"group", std::string(crop.group)},
          {"synonyms", synonyms}};
}

Json origin_json(const crops::Origin& origin) {
  return {{"source", std::string(origin.source)},
          {"kind", std::string(origin.kind)},
          {"address", text_or_null(std::string(origin.address))},
          {"trust", std::string(crops::words(origin.trust))},
          {"note", text_or_null(std::string(origin.note))}};
}

}  // namespace

Json crop_json(const analysis::CropFacts& finding) {
  const auto& known = *finding.known;
  Json facts = Json::array();
  for (const auto& fact : known.facts)
    facts.push_back({{"topic", std::string(fact.topic)},
                     {"what", fact.what},
                     {"low", number(fact.low)},
                     {"high", number(fact.high)},
                     {"unit", text_or_null(std::string(fact.unit))},
                     {"text", text_or_null(fact.text)},
                     {"origin", origin_json(fact.origin)}});
  Json cautions = Json::array();
  for (const auto& caution : known.cautions)
    cautions.push_back(
        {{"text", std::string(caution.text)}, {"origin", origin_json(caution.origin)}});
  return {{"crop", name_json(*known.crop)}, {"facts", facts}, {"cautions", cautions}};
}

Json crop_list_json(const analysis::CropList& list) {
  Json crops = Json::array();
  for (const auto* crop : list.crops) crops.push_back(name_json(*crop));
  return {{"crops", crops}};
}

}  // namespace plumule::report
