-- What cannot be, refused by the file itself whichever program writes. The library says it first
-- and in a grower's words; these stand behind it. They hold no data and are laid anew after each
-- migration, and by an import, which checks all counts in one pass before it commits.
-- A change here needs a numbered migration, if only an empty one: `check` compares them.
-- Times are compared in minutes since 1970, without division, so that days before 1970 are right.

create trigger count_guard before insert on counts begin
  select case
    when new.at < unixepoch(s.sown_on) / 60
      or (new.timed and s.sown_time is not null
          and new.at < unixepoch(s.sown_on || 'T' || s.sown_time) / 60)
      then raise(abort, 'a count before the sowing')
    when (new.total > 0 or new.high > 0 or (new.seedlings > 0))
      and new.at < unixepoch(s.sown_on) / 60 + 1440
      then raise(abort, 'something up on the day of sowing')
    when new.total > s.units - coalesce((select sum(a.units) from assessments a
                                         where a.sowing = s.id), 0)
      then raise(abort, 'more up than sown')
    when new.total - (new.value + new.high) / 2 + new.high > s.units
      then raise(abort, 'more up than sown')
    when new.at >= unixepoch(s.ended_on) / 60 + 1440
      or (new.timed and s.ended_time is not null
          and new.at > unixepoch(s.ended_on || 'T' || s.ended_time) / 60)
      then raise(abort, 'a count after the ending')
    when s.taken_out and new.kind in (0, 2)
      then raise(abort, 'a total where sprouts are taken out')
    when new.seedlings < new.total
      then raise(abort, 'fewer seedlings than units')
    when s.unit = 'cell' and new.seedlings > s.units * s.seeds_per_cell
      then raise(abort, 'more seedlings than seeds')
    end from sowings s where s.id = new.sowing;
end;

-- Where references are not looked up (the sqlite3 shell), a count still needs its sowing.
create trigger count_has_sowing before insert on counts
when not exists (select 1 from sowings s where s.id = new.sowing)
begin
  select raise(abort, 'a count of no sowing');
end;

create trigger sowing_stays before delete on sowings
when exists (select 1 from counts c where c.sowing = old.id)
begin
  select raise(abort, 'a sowing with counts is kept');
end;

-- A derived total never falls, neither against the look before nor against the one after; of a
-- guess, its low end does not lie below the look before (below that one's low end, where it was a
-- guess too).
create trigger count_falls before insert on counts
when new.total < coalesce((select c.total from counts c where c.sowing = new.sowing
                           and c.at < new.at order by c.at desc limit 1), 0)
  or new.total > (select c.total from counts c where c.sowing = new.sowing
                  and c.at > new.at order by c.at limit 1)
  or (new.kind = 0 and new.high is not null
      and new.value < (select case when c.kind = 0 then c.value else c.total end from counts c
                       where c.sowing = new.sowing and c.at < new.at order by c.at desc limit 1))
begin
  select raise(abort, 'a total that falls');
end;

create trigger seedlings_fall before insert on counts
when new.seedlings is not null
 and (new.seedlings < (select max(c.seedlings) from counts c
                       where c.sowing = new.sowing and c.at < new.at)
      or new.seedlings > (select min(c.seedlings) from counts c
                          where c.sowing = new.sowing and c.at > new.at))
begin
  select raise(abort, 'seedlings in all that fall');
end;

-- A correction is a later revision: the library takes the row out, keeps it in `changes` and lays
-- the course anew from there, so that each row passes the guards above.
create trigger count_stays before update on counts begin
  select raise(abort, 'a count is never edited');
end;

-- A sowing may be amended only as far as its counts and assessments allow.
create trigger sowing_guard
before update of units, unit, seeds_per_cell, sown_on, sown_time, ended_on, ended_time, taken_out
on sowings
when exists (select 1 from counts c where c.sowing = new.id
             and (c.total > new.units - coalesce((select sum(a.units) from assessments a
                                                  where a.sowing = new.id), 0)
                  or c.total - (c.value + c.high) / 2 + c.high > new.units
                  or c.at < unixepoch(new.sown_on) / 60
                  or (c.timed and new.sown_time is not null
                      and c.at < unixepoch(new.sown_on || 'T' || new.sown_time) / 60)
                  or ((c.total > 0 or c.high > 0 or c.seedlings > 0)
                      and c.at < unixepoch(new.sown_on) / 60 + 1440)
                  or c.at >= unixepoch(new.ended_on) / 60 + 1440
                  or (c.timed and new.ended_time is not null
                      and c.at > unixepoch(new.ended_on || 'T' || new.ended_time) / 60)
                  or (new.taken_out and c.kind in (0, 2))
                  or (new.unit = 'cell' and c.seedlings > new.units * new.seeds_per_cell)))
  or new.units < (select sum(a.units) from assessments a where a.sowing = new.id)
begin
  select raise(abort, 'the counts of the sowing do not allow it');
end;

create trigger block_of_trial before insert on sowings
when new.block is not null
 and new.trial is not (select b.trial from blocks b where b.id = new.block)
begin
  select raise(abort, 'a block of another trial');
end;

create trigger block_of_trial_kept before update of block, trial on sowings
when new.block is not null
 and new.trial is not (select b.trial from blocks b where b.id = new.block)
begin
  select raise(abort, 'a block of another trial');
end;

create trigger assessment_guard before insert on assessments
when (select s.units from sowings s where s.id = new.sowing) is not null
 and new.units + coalesce((select sum(a.units) from assessments a where a.sowing = new.sowing), 0)
     + coalesce((select max(c.total) from counts c where c.sowing = new.sowing), 0)
     > (select s.units from sowings s where s.id = new.sowing)
begin
  select raise(abort, 'more assessed than did not come up');
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
