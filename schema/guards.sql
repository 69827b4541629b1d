-- What cannot be, refused by the file itself whichever program writes. The library says it first
-- and in a grower's words; these stand behind it. They hold no data and are laid anew after each
-- migration, and by an import, which checks all counts in one pass before it commits.
-- A change here needs a numbered migration, if only an empty one: `check` compares them.
-- Times are compared in minutes since 1970, without division, so that days before 1970 are right.
-- Every command reads this text when it opens the file, and what stands in a `when` before `begin`
-- costs twice as much to read as what stands in a select: so it is short, and mostly selects.

-- Of one count by itself and beside its sowing and the looks before and after. Where references are
-- not looked up (the sqlite3 shell), it still needs its sowing. A derived total never falls, nor do
-- the seedlings in all; of a guess, its low end does not lie below the look before (below that one's
-- low end, where it was a guess too).
create trigger count_guard before insert on counts begin
  select case
    when s.id is null then raise(abort, 'a count of no sowing')
    when new.at < unixepoch(sown_on) / 60
      or new.timed and new.at < unixepoch(sown_on || 'T' || sown_time) / 60
      then raise(abort, 'a count before the sowing')
    when (new.total or new.high or new.seedlings) and new.at < unixepoch(sown_on) / 60 + 1440
      then raise(abort, 'something up on the day of sowing')
    when new.total > units - (select total(a.units) from assessments a where a.sowing = s.id)
      or new.high and new.high + iif(new.kind, (select ifnull(max(c.total), 0) from counts c
        where c.sowing = new.sowing and c.at < new.at), 0) > units
      then raise(abort, 'more up than sown')
    when new.at >= unixepoch(ended_on) / 60 + 1440
      or new.timed and new.at > unixepoch(ended_on || 'T' || ended_time) / 60
      then raise(abort, 'a count after the ending')
    when taken_out and new.kind in (0, 2)
      then raise(abort, 'a total where sprouts are taken out')
    when new.seedlings < new.total
      then raise(abort, 'fewer seedlings than units')
    when unit = 'cell' and new.seedlings > units * seeds_per_cell
      then raise(abort, 'more seedlings than seeds')
    when new.total < 0 or exists (
      select 1 from counts c where c.sowing = new.sowing and
        case when c.at < new.at
          then new.total < total or new.seedlings < seedlings
            or new.kind = 0 and new.high and new.value < iif(kind, total, value)
          else new.total > total or new.seedlings > seedlings end)
      then raise(abort, 'a total that falls')
    end from (select 1) left join sowings s on s.id = new.sowing;
end;

-- A correction is a later revision: the library takes the row out, keeps it in `changes` and lays
-- the course anew from there, so that each row passes the guard above.
create trigger count_stays before update on counts begin
  select raise(abort, 'a count is never edited');
end;

create trigger sowing_stays before delete on sowings begin
  select raise(abort, 'a sowing with counts is kept') from counts where sowing = old.id;
end;

create trigger sowing_added before insert on sowings begin
  select raise(abort, 'a block of another trial')
  where new.block and new.trial is not (select trial from blocks where id = new.block);
end;

-- A sowing may be amended only as far as its counts and assessments allow: each count passes its
-- guard again.
create trigger sowing_guard
after update of units, unit, seeds_per_cell, sown_on, sown_time, ended_on, ended_time, taken_out,
block, trial on sowings begin
  replace into counts select * from counts where sowing = new.id;
  select raise(abort, 'more assessed than did not come up')
  where new.units < (select sum(units) from assessments where sowing = new.id);
  select raise(abort, 'a block of another trial')
  where new.block and new.trial is not (select trial from blocks where id = new.block);
end;

create trigger assessment_guard before insert on assessments begin
  select raise(abort, 'more assessed than did not come up') from sowings s
  where id = new.sowing
    and new.units + (select total(units) from assessments where sowing = new.sowing)
        + (select ifnull(max(total), 0) from counts where sowing = new.sowing) > s.units;
end;

create trigger assessment_stays before update of sowing, units on assessments begin
  select raise(abort, 'an assessment is never edited');
end;

create trigger untreated_stays before delete on treatments when old.id = 1 begin
  select raise(abort, 'untreated always exists');
end;

create trigger journal_stays before delete on journal begin
  select raise(abort, 'the journal is kept');
end;

create trigger journal_line_stays before update of id, at, by, command on journal begin
  select raise(abort, 'the journal is kept');
end;

create trigger changes_stay before delete on changes begin
  select raise(abort, 'what was changed is kept');
end;

create trigger change_stays before update of entry, seq, tab, key, before, after on changes begin
  select raise(abort, 'what was changed is kept');
end;
