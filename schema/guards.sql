-- What cannot be, refused by the file itself whichever program writes. The library says it first
-- and in a grower's words; these stand behind it. They hold no data and are laid anew after each
-- migration, and by an import, which checks its rows as a set before it commits.

create trigger count_guard before insert on counts begin
  select case
    when new.at / 1440 < unixepoch(s.sown_on) / 86400
      or (new.timed and s.sown_time is not null
          and new.at < unixepoch(s.sown_on || 'T' || s.sown_time) / 60)
      then raise(abort, 'a count before the sowing')
    when new.total > 0 and new.at / 1440 <= unixepoch(s.sown_on) / 86400
      then raise(abort, 'something up on the day of sowing')
    when new.total > s.units then raise(abort, 'more up than sown')
    when new.high > s.units and new.kind = 0 then raise(abort, 'more up than sown')
    when s.ended_on is not null and new.at / 1440 > unixepoch(s.ended_on) / 86400
      then raise(abort, 'a count after the ending')
    when s.taken_out and new.kind in (0, 2)
      then raise(abort, 'a total where sprouts are taken out')
    end from sowings s where s.id = new.sowing;
end;

-- A derived total never falls, neither against the look before nor against the one after. Where a
-- correction moves several, the library raises from the latest and lowers from the earliest, so
-- that the course is in order at every step.
create trigger count_falls before insert on counts
when new.total < coalesce((select c.total from counts c where c.sowing = new.sowing
                           and c.at < new.at order by c.at desc limit 1), 0)
  or new.total > (select c.total from counts c where c.sowing = new.sowing
                  and c.at > new.at order by c.at limit 1)
begin
  select raise(abort, 'a total that falls');
end;

create trigger count_moved before update of total on counts
when new.total < coalesce((select c.total from counts c where c.sowing = new.sowing
                           and c.at < new.at order by c.at desc limit 1), 0)
  or new.total > (select c.total from counts c where c.sowing = new.sowing
                  and c.at > new.at order by c.at limit 1)
  or new.total > (select s.units from sowings s where s.id = new.sowing)
  or (new.total > 0 and new.at / 1440 <= (select unixepoch(s.sown_on) / 86400 from sowings s
                                          where s.id = new.sowing))
begin
  select raise(abort, 'a total that falls, or more up than sown');
end;

create trigger count_stays before update of sowing, at on counts begin
  select raise(abort, 'a count keeps its sowing and its time');
end;

-- Units and the sown date may be amended only as far as the counts allow.
create trigger sowing_guard before update of units, sown_on, ended_on on sowings
when exists (select 1 from counts c where c.sowing = new.id
             and (c.total > new.units
                  or c.at / 1440 < unixepoch(new.sown_on) / 86400
                  or (c.total > 0 and c.at / 1440 <= unixepoch(new.sown_on) / 86400)
                  or c.at / 1440 > unixepoch(new.ended_on) / 86400))
begin
  select raise(abort, 'the counts of the sowing do not allow it');
end;

create trigger block_of_trial before insert on sowings
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

create trigger journal_stays before delete on journal begin
  select raise(abort, 'the journal is kept');
end;
