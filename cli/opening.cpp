// A migration is never silent, nor is anything that is put out of the way.
#include "cli/opening.hpp"

#include "cli/outlet.hpp"
#include "cli/showing/hint_words.hpp"

namespace plumule::cli {

logbook::Logbook open_logbook(Context& context, logbook::Access access) {
  context.reads_only = access == logbook::Access::read;
  logbook::Logbook opened = logbook::Logbook::open(context.log, access);
  opened.tell_kept(context.kept);
  if (access == logbook::Access::write) outlive_the_reader();
  tell_opening(context, opened);
  return opened;
}

void tell_opening(const Context& context, const logbook::Logbook& opened) {
  tell(context, opened.leftovers());
  if (opened.migration_backup())
    context.screen.remark(
        "The logbook was of an older plumule and has been brought up to date. A copy of "
        "it as it was: " +
        *opened.migration_backup());
}

void tell(const Context& context, const logbook::Leftovers& leftovers) {
  for (const logbook::Leftover& leftover : leftovers) {
    std::vector<records::Hint> hints;
    if (leftover.what == logbook::Leftover::What::as_found)
      hints.push_back({records::Advice::restore_if_wrong, leftover.logbook});
    context.screen.remark(with_hints(in_words(leftover), hints));
  }
}

void made(Context& context, const std::string& words) {
  context.kept = true;
  context.kept_words = words;
  outlive_the_reader();
}

logbook::Entry begin(logbook::Logbook& logbook, const Context& context) {
  return logbook::Entry(logbook, context.by, context.command, context.today);
}

}  // namespace plumule::cli
