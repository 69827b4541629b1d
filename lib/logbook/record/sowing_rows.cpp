#include "logbook/record/sowing_rows.hpp"

#include "logbook/logbook.hpp"
#include "logbook/store/sql_trouble.hpp"
#include "records/words.hpp"

namespace plumule::logbook {
namespace {

template <class Kind>
Kind kind_in(const Query& row, int column) {
  const auto kind = records::from_word<Kind>(row.view(column));
  if (!kind)
    throw Unusable("The logbook is damaged: \"" + row.text(column) + "\" is no word of the record.",
                   to_a_backup());
  return *kind;
}

std::string select_with(const std::string& place) {
  // ended_why, the last column, comes early: SQLite then finds the places of all in one pass.
  return "select s.id, s.ended_why, s.label, s.sown_on, s.sown_time, l.code, coalesce(l.crop, "
         "s.crop), "
         "coalesce(l.variety, s.variety), t.label, b.code, tr.code, bl.name, s.units_known, "
         "s.units, s.grams, s.metres, s.unit, s.seeds_per_cell, s.counting, s.wetted_on, "
         "s.wetted_time, s.setting, s.taken_out, s.depth_mm, s.medium, " +
         place +
         ", s.bench_order, s.ended_as, s.ended_on, s.ended_time "
         "from sowings s join treatments t on t.id = s.treatment left join lots l on l.id = s.lot "
         "left join batches b on b.id = s.batch left join trials tr on tr.id = s.trial "
         "left join blocks bl on bl.id = s.block ";
}

}  // namespace

const std::string select_sowing = select_with(
    "coalesce((select m.place from moves m where m.sowing = s.id order by m.day desc, m.id desc "
    "limit 1), s.place)");
const std::string select_sowing_as_sown = select_with("s.place");

records::Sowing sowing_in(const Query& row) {
  records::Sowing sowing;
  sowing.id = row.integer(0);
  sowing.label = row.text(2);
  sowing.sown = row.moment(3);
  sowing.lot = row.text(5);
  sowing.crop = row.text(6);
  sowing.variety = row.text(7);
  sowing.treatment = row.text(8);
  sowing.batch = row.text(9);
  sowing.trial = row.text(10);
  sowing.block = row.text(11);
  sowing.units_known = kind_in<records::UnitsKnown>(row, 12);
  sowing.units = row.maybe_integer(13);
  sowing.grams = row.maybe_real(14);
  sowing.metres = row.maybe_real(15);
  sowing.unit = kind_in<records::UnitKind>(row, 16);
  sowing.seeds_per_cell = static_cast<int>(row.integer(17));
  sowing.counting = kind_in<records::Counting>(row, 18);
  sowing.wetted = row.maybe_moment(19);
  sowing.setting = kind_in<records::Setting>(row, 21);
  sowing.taken_out = row.integer(22) != 0;
  sowing.depth_mm = row.maybe_real(23);
  sowing.medium = row.text(24);
  sowing.place = row.text(25);
  sowing.bench_order = row.integer(26);
  if (!row.null(27))
    sowing.ending =
        records::Ending{kind_in<records::EndingKind>(row, 27), row.moment(28), row.text(1)};
  return sowing;
}

}  // namespace plumule::logbook
