// What is known of a crop, each fact with its source.

#include "report/crops.hpp"
#include "analysis/crop_facts.hpp"
#include "cli/asking.hpp"
#include "records/refused.hpp"

namespace plumule::cli {
namespace {

void declare(Options& options) {
  options.words("NAME", "a crop, as a grower calls it; none: all of them", 0, any_number);
  options.flag("full", "every fact with its source, and where sources disagree");
}

int run(Context& context, const Arguments& arguments) {
  std::string name;
  for (const std::string& word : arguments.words()) name += (name.empty() ? "" : " ") + word;
  if (name.empty()) {
    const auto list = analysis::crop_list();
    if (context.json)
      context.screen.line(report::crop_list_json(list));
    else
      context.screen.print(report::crop_list_text(style_of(context), list));
    return 0;
  }
  const auto finding = analysis::crop_facts(name);
  if (!finding.known)
    throw records::Refused(report::unknown_crop(finding) +
                           (finding.may_be_meant.empty() ? " All of them: plumule crops" : ""));
  if (context.json)
    context.screen.line(report::crop_json(finding));
  else
    context.screen.print(arguments.flag("full")
                             ? report::crop_text(style_of(context), finding)
                             : report::crop_gist_text(style_of(context), finding));
  return 0;
}

}  // namespace

extern const Command crops_command;
const Command crops_command{
    .name = "crops",
    .group = Group::mind,
    .summary = "what is known of a crop",
    .about =
        "Least germination for sale, how laboratories test it, days to come up by temperature, "
        "how long seed keeps, what is done before sowing, cautions. With --full each fact has its "
        "source, and sources that disagree stand side by side.",
    .example = "plumule crops lettuce",
    .declare = declare,
    .run = run};

}  // namespace plumule::cli
