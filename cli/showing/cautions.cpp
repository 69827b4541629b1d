// Texts and sources are the crop tables'.
#include "cli/showing/cautions.hpp"

#include <nlohmann/json.hpp>

namespace plumule::cli {

void show_cautions(const Context& context, const std::vector<crops::Caution>& cautions) {
  for (const crops::Caution& caution : cautions) {
    context.screen.print(context.screen.toned(Tone::warning, "Caution:") + " ");
    context.screen.line(context.screen.in_lines(caution.text, 9));
  }
}

Json to_json(const std::vector<crops::Caution>& cautions) {
  Json out = Json::array();
  for (const crops::Caution& caution : cautions) out.push_back(caution.text);
  return out;
}

}  // namespace plumule::cli
