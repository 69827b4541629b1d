-- Flat views for any SQLite tool: dates as ISO text, names instead of row numbers. Every command
-- reads this text when it opens the file: it is kept short.

-- One row a sowing: what was sown, with the names of all it belongs to. Untreated seed was soaked
-- for 0 hours; of a treatment that says nothing of a soak they are null.
create view sowing_facts as
select s.id as sowing_id, s.label as sowing, sown_on, sown_time, l.code as lot,
       ifnull(l.crop, s.crop) as crop, ifnull(l.variety, s.variety) as variety, harvest_year,
       t.label as treatment, iif(t.id = 1, 0.0, soak_hours) as soak_hours, r.code as trial,
       b.name as block, setting, unit, counting, units as seeds, ended_as, ended_on, ended_why
from sowings s join treatments t on t.id = treatment left join lots l on l.id = lot
left join trials r on r.id = s.trial left join blocks b on b.id = block;

-- Every temperature of a sowing's soil: its own, and those of the places while it stood there.
create view soil_readings as
with stays as (
  select id as s, place, sown_on as since, ended_on as last,
         (select min(day) from moves m where m.sowing = id) as until from sowings
  union all
  select sowing, m.place, day, ended_on, (select min(day) from moves n where n.sowing = m.sowing
         and (n.day, n.id) > (m.day, m.id)) from moves m join sowings s on s.id = sowing)
select sowing as sowing_id, day as read_on, time as read_time, spot_c as soil_temp_c,
       min_c as soil_min_c, max_c as soil_max_c from temperatures where sowing is not null
union all
select s, day, time, spot_c, min_c, max_c from stays join temperatures t on t.place = stays.place
where day >= since and day < ifnull(until, '9') and day <= ifnull(last, '9');

-- Every current count with all that is known of its sowing, and the soil's temperature of that day.
-- `lost` is since the look before, `lost_so_far` all of it, and `standing` what is then left of
-- those ever up. `share` is emerged of share_of; null where nobody knows how many were sown, and of
-- a look that counted only seedlings.
create view daily_counts as
select f.*, date(at * 60, 'unixepoch') as counted_on,
       iif(timed, strftime('%H:%M', at * 60, 'unixepoch'), null) as counted_time,
       case kind when 0 then 'total' when 1 then 'newly' when 2 then 'standing' else 'seedlings' end
         as entered_as,
       value as entered, high as entered_high, lost, seedlings,
       iif(kind < 3, total, null) as emerged, iif(kind < 3, seeds, null) as share_of,
       iif(kind < 3, 1.0 * total / seeds, null) as share,
       iif(kind < 3, total - lag(total, 1, 0) over looks, null) as newly_emerged,
       (at - unixepoch(sown_on || 'T' || ifnull(sown_time, '12:00')) / 60) / 1440.0
         as days_since_sowing,
       name as counted_by, ifnull(sum(lost) over looks, 0) as lost_so_far,
       total - ifnull(sum(lost) over looks, 0) as standing, soil_temp_c, soil_min_c, soil_max_c
from counts c join sowing_facts f on sowing_id = c.sowing left join people p on p.id = person
left join (select sowing_id as s, read_on, avg(soil_temp_c) as soil_temp_c,
                  min(soil_min_c) as soil_min_c, max(soil_max_c) as soil_max_c
           from soil_readings group by 1, 2) on s = c.sowing and read_on = date(at * 60, 'unixepoch')
window looks as (partition by c.sowing order by at);

-- How each sowing stands, and how it ended; `lost` is null where no loss was ever recorded.
-- `share` is share_up of share_of, null where it can't be told: never looked at, an unknown number
-- sown, an accident. Of several sowings it is 1.0 * sum(share_up) / sum(share_of). soil_mean_c is
-- of lowest and highest; single readings make soil_temp_c, which is of whatever hour they were.
create view sowing_state as
select *, iif(ended_as = 'accident' or emerged is null, null, seeds) as share_of,
       iif(ended_as = 'accident' or seeds is null, null, emerged) as share_up,
       iif(ended_as = 'accident', null, 1.0 * emerged / seeds) as share
from (
  select *, ifnull((select max(total) from counts c where c.sowing = sowing_id and kind < 3),
                   iif(ended_as = 'failed', 0, null)) as emerged,
         (select date(max(at) * 60, 'unixepoch') from counts c where c.sowing = sowing_id)
           as last_counted_on,
         (select sum(lost) from counts c where c.sowing = sowing_id) as lost,
         (select max(total) - ifnull(sum(lost), 0) from counts c where c.sowing = sowing_id
            and kind < 3) as standing,
         (select avg((soil_min_c + soil_max_c) / 2) from soil_readings r
            where r.sowing_id = f.sowing_id) as soil_mean_c,
         (select avg(soil_temp_c) from soil_readings r where r.sowing_id = f.sowing_id
            and soil_min_c + soil_max_c is null) as soil_temp_c
  from sowing_facts f);

-- What is left of each lot by its ledger.
create view lot_stock as
select code as lot, crop, variety, sum(seeds) as seeds, sum(grams) as grams
from lots l left join stock on lot = l.id group by l.id;

-- Every correction: who, when, from what, to what. That a sowing was ended corrects nothing.
create view corrections as
select at, by, command, undone_at, tab as "table", key, before, after
from changes join journal on id = entry
where undone = 0 and not (tab = 'sowings' and before glob '{"ended_as":null*');
