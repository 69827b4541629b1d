// The names used here are promised: schema/json holds them.
#include "cli/showing/json.hpp"

#include <nlohmann/json.hpp>

#include "records/words.hpp"

namespace plumule::cli {

void print_json(const Context& context, const Json& answer) {
  context.screen.line(answer.dump(2, ' ', false, Json::error_handler_t::replace));
}

Json or_null(const std::optional<double>& value) { return value ? Json(*value) : Json(); }
Json or_null(const std::optional<int>& value) { return value ? Json(*value) : Json(); }
Json or_null(const std::optional<std::int64_t>& value) { return value ? Json(*value) : Json(); }
Json or_null(const std::optional<std::uint64_t>& value) { return value ? Json(*value) : Json(); }
Json or_null(const std::string& text) { return text.empty() ? Json() : Json(text); }

Json or_null(const std::optional<records::Date>& date) {
  return date ? Json(records::to_text(*date)) : Json();
}

Json or_null(const std::optional<records::Moment>& moment) {
  return moment ? Json(records::to_text(*moment)) : Json();
}

Json to_json(const records::Sowing& sowing) {
  Json out{{"sowing", sowing.label},
           {"sown_on", records::to_text(sowing.sown)},
           {"lot", or_null(sowing.lot)},
           {"crop", or_null(sowing.crop)},
           {"variety", or_null(sowing.variety)},
           {"treatment", sowing.treatment},
           {"batch", or_null(sowing.batch)},
           {"trial", or_null(sowing.trial)},
           {"block", or_null(sowing.block)},
           {"units_known", records::word(sowing.units_known)},
           {"units", or_null(sowing.units)},
           {"grams", or_null(sowing.grams)},
           {"metres", or_null(sowing.metres)},
           {"unit", records::word(sowing.unit)},
           {"seeds_per_cell", sowing.seeds_per_cell},
           {"counting", records::word(sowing.counting)},
           {"wetted_on", or_null(sowing.wetted)},
           {"setting", records::word(sowing.setting)},
           {"taken_out", sowing.taken_out},
           {"depth_mm", or_null(sowing.depth_mm)},
           {"medium", or_null(sowing.medium)},
           {"place", or_null(sowing.place)},
           {"ended", Json()},
           {"ended_on", Json()},
           {"ended_why", Json()}};
  if (sowing.ending) {
    out["ended"] = records::word(sowing.ending->kind);
    out["ended_on"] = records::to_text(sowing.ending->at);
    out["ended_why"] = or_null(sowing.ending->why);
  }
  return out;
}

Json to_json(const records::Count& count) {
  constexpr const char* kinds[] = {"total", "newly", "standing", "seedlings"};
  const records::Entered& entered = count.entered;
  const bool standing = entered.kind == records::CountKind::standing;
  return {{"counted_on", records::to_text(count.at)},
          {"entered_as", kinds[static_cast<int>(entered.kind)]},
          {"entered", entered.value},
          {"entered_high", or_null(entered.high)},
          {"lost", standing ? Json(entered.lost) : Json()},
          {"seedlings", or_null(entered.seedlings)},
          {"emerged", count.total},
          {"counted_by", or_null(count.by)}};
}

Json to_json(const records::Lot& lot) {
  Json parents = Json::array();
  for (const records::Parent& parent : lot.parents)
    parents.push_back({{"lot", parent.lot}, {"descent", records::word(parent.descent)}});
  return {{"lot", lot.code},
          {"crop", or_null(lot.crop)},
          {"variety", or_null(lot.variety)},
          {"source", or_null(lot.source)},
          {"parents", parents},
          {"harvest_year", or_null(lot.harvest_year)},
          {"packed_year", or_null(lot.packed_year)},
          {"label_germination", or_null(lot.label_germination)},
          {"label_tested_on", or_null(lot.label_tested_on)},
          {"coating", or_null(lot.coating)},
          {"seed_treatment", or_null(lot.seed_treatment)},
          {"seeds_per_gram", or_null(lot.seeds_per_gram)},
          {"irreplaceable", lot.irreplaceable}};
}

}  // namespace plumule::cli
