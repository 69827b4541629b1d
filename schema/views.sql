-- Flat views for any SQLite tool: dates as ISO text, names instead of row numbers.

-- Every current count with all that is known of its sowing.
create view daily_counts as
select s.label as sowing, s.sown_on, s.sown_time, l.code as lot, coalesce(l.crop, s.crop) as crop,
       coalesce(l.variety, s.variety) as variety, t.label as treatment, tr.code as trial,
       b.name as block, s.setting, s.unit, s.counting, s.units as seeds,
       date(c.at * 60, 'unixepoch') as counted_on,
       case c.timed when 1 then strftime('%H:%M', c.at * 60, 'unixepoch') end as counted_time,
       case c.kind when 0 then 'total' when 1 then 'newly' when 2 then 'standing'
                   else 'seedlings' end as entered_as,
       c.value as entered, c.high as entered_high, c.lost, c.seedlings, c.total as emerged,
       c.total - lag(c.total, 1, 0) over (partition by c.sowing order by c.at) as newly_emerged,
       (c.at - unixepoch(s.sown_on || 'T' || coalesce(s.sown_time, '12:00')) / 60) / 1440.0
         as days_since_sowing,
       p.name as counted_by
from counts c
join sowings s on s.id = c.sowing
join treatments t on t.id = s.treatment
left join lots l on l.id = s.lot
left join trials tr on tr.id = s.trial
left join blocks b on b.id = s.block
left join people p on p.id = c.person;

-- One row a sowing: what was sown, how it stands, how it ended.
create view sowing_state as
select s.label as sowing, s.sown_on, l.code as lot, coalesce(l.crop, s.crop) as crop,
       t.label as treatment, tr.code as trial, b.name as block, s.setting, s.units as seeds,
       (select max(c.total) from counts c where c.sowing = s.id) as emerged,
       (select date(max(c.at) * 60, 'unixepoch') from counts c where c.sowing = s.id)
         as last_counted_on,
       s.ended_as, s.ended_on, s.ended_why
from sowings s
join treatments t on t.id = s.treatment
left join lots l on l.id = s.lot
left join trials tr on tr.id = s.trial
left join blocks b on b.id = s.block;

-- What is left of each lot by its ledger.
create view lot_stock as
select l.code as lot, l.crop, l.variety, sum(k.seeds) as seeds, sum(k.grams) as grams
from lots l left join stock k on k.lot = l.id group by l.id;

-- Every correction: who, when, from what, to what.
create view corrections as
select j.at, j.by, j.command, j.undone_at, c.tab as "table", c.key, c.before, c.after
from changes c join journal j on j.id = c.entry
where c.undone = 0;

-- Rules that a count breaks; empty in a sound logbook. The same rules as the guards, as one pass.
create view broken_counts as
select sowing, at,
       case when total < before then 'a total that falls'
            when total > units then 'more up than sown'
            when day < sown_day then 'a count before the sowing'
            when total > 0 and day = sown_day then 'something up on the day of sowing'
            else 'a count after the ending' end as broken
from (select c.sowing, c.at, c.total, c.at / 1440 as day, s.units, s.sown_day, s.ended_day,
             lag(c.total, 1, 0) over (partition by c.sowing order by c.at) as before
      from counts c
      join (select id, units, unixepoch(sown_on) / 86400 as sown_day,
                   unixepoch(ended_on) / 86400 as ended_day from sowings) s on s.id = c.sowing)
where total < before or total > units or day < sown_day or (total > 0 and day = sown_day)
   or day > ended_day;
