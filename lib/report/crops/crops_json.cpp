#include "report/crops.hpp"

#include <cmath>
#include <nlohmann/json.hpp>

#include "report/parts/json_parts.hpp"

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

Json span_json(const std::optional<crops::Span>& span) {
  if (!span) return nullptr;
  return {{"low", span->low}, {"high", std::isinf(span->high) ? Json(nullptr) : Json(span->high)}};
}

Json before_json(const crops::BeforeSowing& one) {
  return {{"topic", std::string(one.topic)},
          {"treatment", text_or_null(std::string(one.treatment))},
          {"amount", span_json(one.amount)},
          {"unit", text_or_null(std::string(one.unit))},
          {"limit", text_or_null(std::string(one.limit))},
          {"advised_by", one.advised},
          {"refused_by", one.refused}};
}

Json gist_json(const crops::Gist& gist) {
  Json out = {{"standard", nullptr}, {"laboratory_test", nullptr}, {"seed_life", nullptr}};
  if (gist.standard)
    out["standard"] = {{"fraction", gist.standard->fraction},
                       {"scope", std::string(gist.standard->scope)}};
  if (gist.test)
    out["laboratory_test"] = {
        {"temperature", text_or_null(std::string(gist.test->temperature_c))},
        {"first_count_day",
         gist.test->first_count_days ? Json(*gist.test->first_count_days) : Json(nullptr)},
        {"last_count_day", gist.test->final_count_days}};
  Json days = Json::array();
  for (const auto& row : gist.days) days.push_back({{"temp_c", row.temp_c}, {"days", *row.days}});
  out["days_to_emergence"] = days;
  out["give_up_day"] = gist.wait ? Json(gist.wait->days) : Json(nullptr);
  out["soil"] = {{"tables", gist.soil.tables},
                 {"lowest", span_json(gist.soil.lowest)},
                 {"best", span_json(gist.soil.best)},
                 {"highest", span_json(gist.soil.highest)}};
  if (const auto& life = gist.life)
    out["seed_life"] = {{"lists", life->lists},
                        {"low", life->lists > 0 ? Json(life->lowest) : Json(nullptr)},
                        {"high", life->lists > 0 ? Json(life->highest) : Json(nullptr)},
                        {"median", life->lists > 0 ? Json(life->median_low) : Json(nullptr)},
                        {"handbook", number(life->handbook)}};
  out["seedlings"] = span_json(gist.seedlings);
  out["hard_seed"] = gist.hard_seed;
  Json before = Json::array();
  for (const auto& one : gist.before) before.push_back(before_json(one));
  out["before_sowing"] = before;
  return out;
}

}  // namespace

std::string crop_json(const analysis::CropFacts& finding) {
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
  return written({{"crop", name_json(known.crop)},
                  {"in_short", gist_json(finding.gist)},
                  {"facts", facts},
                  {"cautions", cautions}});
}

std::string crop_list_json(const analysis::CropList& list) {
  Json crops = Json::array();
  for (const auto& crop : list.crops) crops.push_back(name_json(crop));
  return written({{"crops", crops}});
}

}  // namespace plumule::report
