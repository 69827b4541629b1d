-- Flat views for any SQLite tool: dates as ISO text, names instead of row numbers. Every command
-- reads this text when it opens the file: it is kept short.

-- One row a sowing: what was sown, with the names of all it belongs to.
create view sowing_facts as
select s.id as sowing_id, s.label as sowing, sown_on, sown_time, l.code as lot,
       ifnull(l.crop, s.crop) as crop, ifnull(l.variety, s.variety) as variety,
       t.label as treatment, r.code as trial, b.name as block, setting, unit, counting,
       units as seeds, ended_as, ended_on, ended_why
from sowings s join treatments t on t.id = treatment left join lots l on l.id = lot
left join trials r on r.id = s.trial left join blocks b on b.id = block;

-- Every current count with all that is known of its sowing. `lost` is since the look before,
-- `lost_so_far` all of it, and `standing` what is then left of those ever up.
create view daily_counts as
select f.*, date(at * 60, 'unixepoch') as counted_on,
       iif(timed, strftime('%H:%M', at * 60, 'unixepoch'), null) as counted_time,
       case kind when 0 then 'total' when 1 then 'newly' when 2 then 'standing' else 'seedlings' end
         as entered_as,
       value as entered, high as entered_high, lost, seedlings, total as emerged,
       total - lag(total, 1, 0) over looks as newly_emerged,
       (at - unixepoch(sown_on || 'T' || ifnull(sown_time, '12:00')) / 60) / 1440.0
         as days_since_sowing,
       name as counted_by, ifnull(sum(lost) over looks, 0) as lost_so_far,
       total - ifnull(sum(lost) over looks, 0) as standing
from counts c join sowing_facts f on sowing_id = c.sowing left join people p on p.id = person
window looks as (partition by c.sowing order by at);

-- How each sowing stands, and how it ended; `lost` is null where no loss was ever recorded.
create view sowing_state as
select *, (select max(total) from counts c where c.sowing = sowing_id) as emerged,
       (select date(max(at) * 60, 'unixepoch') from counts c where c.sowing = sowing_id)
         as last_counted_on,
       (select sum(lost) from counts c where c.sowing = sowing_id) as lost,
       (select max(total) - ifnull(sum(lost), 0) from counts c where c.sowing = sowing_id)
         as standing
from sowing_facts;

-- What is left of each lot by its ledger.
create view lot_stock as
select code as lot, crop, variety, sum(seeds) as seeds, sum(grams) as grams
from lots l left join stock on lot = l.id group by l.id;

-- Every correction: who, when, from what, to what. That a sowing was ended corrects nothing.
create view corrections as
select at, by, command, undone_at, tab as "table", key, before, after
from changes join journal on id = entry
where undone = 0 and not (tab = 'sowings' and before glob '{"ended_as":null*');
