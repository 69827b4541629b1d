#include "bench/jars.hpp"

#include <algorithm>

#include "logbook/record/histories.hpp"
#include "logbook/record/sowings.hpp"
#include "logbook/record/treatments.hpp"
#include "records/label.hpp"
#include "records/refused.hpp"

namespace plumule::bench {

std::string jar_of(const Jars& jars, std::size_t treatments, const records::Sowing& sowing) {
  // Sown beside treated seed, the untreated went through no jar; sown alone it may have (a mat).
  const bool beside = treatments > 1 || jars.own;
  if (sowing.treatment == records::untreated && beside) return {};
  if (jars.own) return sowing.label + "-" + records::to_text(sowing.sown.date);
  return jars.name.empty() || treatments == 1 ? jars.name : jars.name + "-" + sowing.treatment;
}

void put_in_jar(logbook::Entry& entry, const std::string& code, records::Sowing& sowing) {
  const auto jar = logbook::find_batch(entry.logbook(), code);
  if (jar && !records::same_label(jar->treatment, sowing.treatment))
    throw records::Refused("Jar " + jar->code + " holds seed of " + jar->treatment + ", not of " +
                           sowing.treatment + ". Give this jar another name.");
  if (!jar) {
    records::Batch made;
    made.code = code;
    made.treatment = sowing.treatment;
    made.made_on = sowing.wetted ? sowing.wetted->date : sowing.sown.date;
    logbook::add_batch(entry, made);
  }
  sowing.batch = jar ? jar->code : code;
}

std::vector<JarsKnown> jars_partly_known(logbook::Logbook& logbook,
                                         const std::vector<records::Sowing>& sowings) {
  std::vector<JarsKnown> all;
  for (const records::Sowing& one : sowings) {
    if (one.trial.empty()) continue;
    const records::Sowing now = logbook::sowing_by_id(logbook, one.id);
    JarsKnown known{now.trial, now.treatment, 0, 0};
    logbook::Selection selection;
    selection.trial = now.trial;
    selection.treatment = now.treatment;
    logbook::each_history(logbook, selection, [&](const records::History& history) {
      ++known.sowings;
      if (!history.sowing.batch.empty()) ++known.in_jars;
    });
    const bool partly = known.in_jars > 0 && known.in_jars < known.sowings;
    if (partly && std::find(all.begin(), all.end(), known) == all.end()) all.push_back(known);
  }
  return all;
}

}  // namespace plumule::bench
