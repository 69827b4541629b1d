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

-- Rules that a count breaks; empty in a sound logbook: the order and
-- range of totals and their days, for any SQLite tool. `plumule check` looks at more.
create view broken_counts as
select sowing, at,
       case when at < sown or (timed and at < sown_at) then 'a count before the sowing'
            when (total > 0 or high > 0 or seedlings > 0) and at < sown + 1440
              then 'something up on the day of sowing'
            when total > units - assessed or total - (value + high) / 2 + high > units
              then 'more up than sown'
            when at >= ended + 1440 or (timed and at > ended_at) then 'a count after the ending'
            when taken_out and kind in (0, 2) then 'a total where sprouts are taken out'
            when seedlings < total then 'fewer seedlings than units'
            when unit = 'cell' and seedlings > units * seeds_per_cell
              then 'more seedlings than seeds'
            else 'a total that falls' end as broken
from (select c.*, s.units, s.unit, s.seeds_per_cell, s.taken_out, s.sown, s.sown_at, s.ended, s.ended_at, s.assessed,
             lag(c.total, 1, 0) over course as before,
             lag(case when c.kind = 0 then c.value else c.total end, 1, 0) over course as before_low
      from counts c
      join (select id, units, unit, seeds_per_cell, taken_out,
                   unixepoch(sown_on) / 60 as sown,
                   unixepoch(sown_on || 'T' || sown_time) / 60 as sown_at,
                   unixepoch(ended_on) / 60 as ended,
                   unixepoch(ended_on || 'T' || ended_time) / 60 as ended_at,
                   coalesce((select sum(a.units) from assessments a where a.sowing = sowings.id), 0)
                     as assessed
            from sowings) s on s.id = c.sowing
      window course as (partition by c.sowing order by c.at))
where total < before or (kind = 0 and high is not null and value < before_low)
   or total > units - assessed or total - (value + high) / 2 + high > units
   or at < sown or (timed and at < sown_at)
   or ((total > 0 or high > 0 or seedlings > 0) and at < sown + 1440)
   or at >= ended + 1440 or (timed and at > ended_at)
   or (taken_out and kind in (0, 2)) or seedlings < total
   or (unit = 'cell' and seedlings > units * seeds_per_cell)
union all
select sowing, at, 'seedlings in all that fall'
from (select sowing, at, seedlings,
             lag(seedlings) over (partition by sowing order by at) as before
      from counts where seedlings is not null)
where seedlings < before;
