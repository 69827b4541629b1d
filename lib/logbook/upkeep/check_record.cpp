#include "logbook/record/course_rows.hpp"
#include "logbook/record/lots.hpp"
#include "logbook/record/observations.hpp"
#include "logbook/record/sowing_rows.hpp"
#include "logbook/record/stock.hpp"
#include "logbook/record/treatments.hpp"
#include "logbook/record/trials.hpp"
#include "logbook/upkeep/findings.hpp"
#include "records/course.hpp"
#include "records/refused.hpp"

namespace plumule::logbook {
namespace {

template <class Record>
void judge(const Record& record, Findings& findings) {
  try {
    check(record);
  } catch (const records::Refused& refused) {
    findings.add(records::Refusal{refused.what(), refused.hints()});
  }
}

void judge_course(Store& store, const records::Sowing& sowing, std::int64_t assessed,
                  Findings& findings) {
  std::vector<records::Count> counts = counts_in(read_course(store, sowing.id));
  const std::vector<records::Count> stored = counts;
  if (const auto trouble = derive(sowing, counts)) {
    findings.add(explain(sowing, counts, *trouble, counts.size()));
    return;
  }
  for (std::size_t i = 0; i < counts.size(); ++i)
    if (counts[i].total != stored[i].total)
      findings.add(sowing.dated_label() + ": on " + records::to_text(counts[i].at) + ' ' +
                   std::to_string(stored[i].total) + " stand as up in all, but what was entered (" +
                   in_words(counts[i].entered) + ") makes " + std::to_string(counts[i].total) +
                   '.');
  const std::int64_t up = counts.empty() ? 0 : counts.back().total;
  if (sowing.units && assessed + up > *sowing.units)
    findings.add(sowing.dated_label() + ": " + std::to_string(up) + " up and " +
                 std::to_string(assessed) + " assessed are more than " +
                 std::to_string(*sowing.units) + " sown.");
}

void judge_sowings(Store& store, Findings& findings) {
  std::vector<records::Id> ids;
  {
    Query find(store, "select id from sowings order by id");
    while (find.next()) ids.push_back(find.integer(0));
  }
  for (const records::Id id : ids) {
    Query find(store, select_sowing + "where s.id = ?", id);
    if (!find.next()) {
      findings.add("A sowing names a treatment that is not there.");
      continue;
    }
    const records::Sowing sowing = sowing_in(find);
    judge(sowing, findings);
    Query sum(store, "select coalesce(sum(units), 0) from assessments where sowing = ?", id);
    judge_course(store, sowing, sum.next() ? sum.integer(0) : 0, findings);
  }
}

void judge_rest(Logbook& logbook, Findings& findings) {
  Store& store = logbook.store();
  for (const records::Lot& lot : lots(logbook)) {
    judge(lot, findings);
    for (const auto& line : stock_of(logbook, lot.code)) judge(line, findings);
    for (const auto& span : storage_of(logbook, lot.code)) judge(span, findings);
  }
  for (const records::Treatment& treatment : treatments(logbook)) judge(treatment, findings);
  for (const records::Trial& trial : trials(logbook)) judge(trial, findings);
  if (!find_treatment(logbook, records::untreated))
    findings.add("The treatment untreated is not there.");
  Query strangers(store,
                  "select s.label from sowings s join batches b on b.id = s.batch "
                  "where b.treatment <> s.treatment");
  while (strangers.next())
    findings.add(strangers.text(0) + ": its batch of treated seed is of another treatment.");
  Query blocks(store,
               "select s.label from sowings s join blocks b on b.id = s.block "
               "where s.trial is not b.trial");
  while (blocks.next()) findings.add(blocks.text(0) + ": its block is of another trial.");
  Query early(store,
              "select s.label, a.day from assessments a join sowings s on s.id = a.sowing "
              "where a.day < s.sown_on");
  while (early.next())
    findings.add(early.text(0) + ": assessed on " + early.text(1) + ", before it was sown.");
}

}  // namespace

void check_record(Logbook& logbook, Findings& findings) {
  judge_sowings(logbook.store(), findings);
  judge_rest(logbook, findings);
}

}  // namespace plumule::logbook
