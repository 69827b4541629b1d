-- The whole record, from the first migration on. Every row that a command writes carries that
-- command's journal entry, so that undo can take the command back whole. Dates are ISO 8601 text
-- (day is date(day, '+0 days') refuses 2026-02-30 where date(day) would not); only counts, which
-- grow, keep minutes since 1970-01-01. Stored words and numbers are never renamed or renumbered.

-- One line a command that wrote: who, when, what. An undone entry stays, marked.
create table journal (
  id        integer primary key,
  at        text not null,               -- UTC, YYYY-MM-DDTHH:MM:SSZ
  by        text not null,
  command   text not null,               -- as typed, without the logbook's path
  summary   text not null,               -- what it did, in words
  undone_at text,
  undone_by text
) strict;

-- What a command changed or took out in rows that stood before: each column as it was and as it
-- became. `undo` puts `before` back, latest first. A row that undo itself took out is kept here
-- too (before set, after null, undone 1), but for entries of more than 10,000 rows: an import, whose
-- file still holds them.
create table changes (
  entry  integer not null references journal,
  seq    integer not null,
  tab    text not null,
  key    text not null,
  before text,
  after  text,
  undone integer not null default 0 check (undone in (0, 1)),
  primary key (entry, seq)
) strict, without rowid;

create table people (
  id    integer primary key,
  name  text not null unique check (length(name) between 1 and 64),
  entry integer not null references journal
) strict;

create table lots (
  id                integer primary key,
  code              text not null unique collate nocase check (length(code) between 1 and 64),
  crop              text,
  variety           text,
  source            text,
  harvest_year      integer check (harvest_year between 1800 and 9999),
  packed_year       integer check (packed_year between 1800 and 9999),
  label_germination real check (label_germination between 0 and 1),
  label_tested_on   text check (label_tested_on is date(label_tested_on, '+0 days')),
  coating           text,
  seed_treatment    text,
  seeds_per_gram    real check (seeds_per_gram > 0 and seeds_per_gram < 1e9),
  irreplaceable     integer not null default 0 check (irreplaceable in (0, 1)),
  entry             integer not null references journal
) strict;

create index lot_crop on lots (crop collate nocase) where crop is not null;

create table lot_parents (
  id      integer primary key,
  lot     integer not null references lots,
  parent  integer not null references lots check (parent <> lot),
  descent text not null check (descent in ('own-harvest', 'split', 'mix')),
  entry   integer not null references journal,
  unique (lot, parent)
) strict;
create index lot_parent on lot_parents (parent);

create table storage (
  id            integer primary key,
  lot           integer not null references lots,
  since         text not null check (since is date(since, '+0 days')),
  temperature_c real check (temperature_c between -273 and 90),
  humidity      real check (humidity between 0 and 1),
  moisture      real check (moisture between 0 and 1),
  place         text,
  entry         integer not null references journal,
  unique (lot, since)
) strict;

create table treatments (
  id            integer primary key,
  label         text not null unique collate nocase check (length(label) between 1 and 64),
  soak_hours    real check (soak_hours between 0 and 1000),
  water_c       real check (water_c between -5 and 100),
  scarification text,
  chill_days    real check (chill_days between 0 and 2000),
  chill_c       real check (chill_c between -30 and 30),
  priming       text,
  entry         integer references journal,
  check (entry is not null or id = 1)
) strict;
-- The treatment that always exists belongs to no command, so that none can take it back.
insert into treatments (id, label) values (1, 'untreated');

create table trials (
  id        integer primary key,
  code      text not null unique collate nocase check (length(code) between 1 and 64),
  question  text,
  closes_on text check (closes_on is date(closes_on, '+0 days')),
  worth     real check (worth > 0 and worth <= 1),
  blind     integer not null default 0 check (blind in (0, 1)),
  entry     integer not null references journal
) strict;

create table blocks (
  id       integer primary key,
  trial    integer not null references trials,
  name     text not null collate nocase check (length(name) between 1 and 64),
  position integer not null,
  entry    integer not null references journal,
  unique (trial, name)
) strict;

create table inspections (
  id    integer primary key,
  trial integer not null references trials,
  day   text not null check (day is date(day, '+0 days')),
  entry integer not null references journal,
  unique (trial, day)
) strict;

-- Seed treated together: one jar, one heat mat.
create table batches (
  id        integer primary key,
  code      text not null unique collate nocase check (length(code) between 1 and 64),
  treatment integer not null references treatments,
  made_on   text check (made_on is date(made_on, '+0 days')),
  entry     integer not null references journal
) strict;
create index batch_treatment on batches (treatment);

-- A list of three words or more after `in` would be built anew, as a tree, for every row.
create table sowings (
  id             integer primary key,
  label          text not null collate nocase check (length(label) between 1 and 64),
  sown_on        text not null check (sown_on is date(sown_on, '+0 days')),
  sown_time      text check (sown_time glob '[0-2][0-9]:[0-5][0-9]' and sown_time < '24:00'),
  lot            integer references lots,
  crop           text,   -- where no lot is recorded
  variety        text,
  treatment      integer not null references treatments,
  batch          integer references batches,
  trial          integer references trials,
  block          integer references blocks,
  units_known    text not null check (units_known = 'exact' or units_known = 'estimated'
                        or units_known = 'unknown'),
  units          integer check (units between 1 and 1000000000),
  grams          real check (grams > 0 and grams < 1e9),
  metres         real check (metres > 0 and metres < 1e9),
  unit           text not null check (unit = 'seed' or unit = 'cluster' or unit = 'cell'),
  seeds_per_cell integer not null default 1 check (seeds_per_cell between 1 and 1000),
  counting       text not null check (counting = 'root' or counting = 'shoot' or counting = 'usable'),
  wetted_on      text check (wetted_on is date(wetted_on, '+0 days')),
  wetted_time    text check (wetted_time glob '[0-2][0-9]:[0-5][0-9]' and wetted_time < '24:00'),
  setting        text not null check (setting = 'towel' or setting = 'dish' or setting = 'tray'
                        or setting = 'cells' or setting = 'pot' or setting = 'row'),
  taken_out      integer not null check (taken_out in (0, 1)),
  depth_mm       real check (depth_mm between 0 and 10000),
  medium         text,
  place          text collate nocase,   -- where it was sown; moves say where it went
  bench_order    integer not null default 0,
  ended_as       text check (ended_as = 'finished' or ended_as = 'accident' or ended_as = 'failed'
                        or ended_as = 'given-up' or ended_as = 'sown-over'),
  ended_on       text check (ended_on is date(ended_on, '+0 days') and ended_on >= sown_on),
  ended_time     text check (ended_time glob '[0-2][0-9]:[0-5][0-9]' and ended_time < '24:00'),
  ended_why      text,
  entry          integer not null references journal,
  check ((units_known = 'unknown') = (units is null)),
  check ((ended_as is null) = (ended_on is null)),
  check (block is null or trial is not null),
  check (wetted_on is null or wetted_on <= sown_on)
) strict;
-- A label comes back every spring: it is unique among open sowings, and with its sown date.
create unique index sowing_open on sowings (label) where ended_as is null;
create unique index sowing_identity on sowings (label, sown_on);
create index sowing_lot on sowings (lot) where lot is not null;
create index sowing_crop on sowings (crop collate nocase) where crop is not null;
create index sowing_trial on sowings (trial) where trial is not null;
create index sowing_batch on sowings (batch) where batch is not null;
create index sowing_block on sowings (block) where block is not null;

create table stock (
  id     integer primary key,
  lot    integer not null references lots,
  day    text not null check (day is date(day, '+0 days')),
  seeds  integer check (abs(seeds) <= 1000000000000),
  grams  real check (abs(grams) < 1e12),
  reason text not null,
  sowing integer references sowings,
  entry  integer not null references journal,
  check (seeds is not null or grams is not null)
) strict;
create index stock_lot on stock (lot);
create index stock_sowing on stock (sowing) where sowing is not null;

-- The current counts. `kind`: 0 total, 1 newly, 2 standing, 3 only seedlings. `value` is as entered
-- (of a guess the low end, `high` the high end); `total` is derived: units ever up.
create table counts (
  sowing    integer not null references sowings,
  at        integer not null,             -- minutes since 1970-01-01T00:00; noon if not timed
  timed     integer not null check (timed in (0, 1)),
  kind      integer not null check (kind between 0 and 3),
  value     integer not null check (value between 0 and 1000000000),
  high      integer check (high > value and high <= 1000000000),
  lost      integer check (lost between 0 and 1000000000),
  seedlings integer check (seedlings between 0 and 1000000000),
  total     integer not null check (total between 0 and 1000000000),
  person    integer references people,
  entry     integer not null references journal,
  primary key (sowing, at),
  check ((kind = 2) = (lost is not null)),
  check (high is null or kind in (0, 1)),
  check (kind <> 3 or (seedlings is not null and value = 0)),
  check (kind <> 0 or high is not null or total = value)
) strict, without rowid;

-- Seen, but refused by the rules: out of every figure until settled.
create table doubtful_counts (
  id        integer primary key,
  sowing    integer not null references sowings,
  at        integer not null,
  timed     integer not null check (timed in (0, 1)),
  kind      integer not null check (kind between 0 and 3),
  value     integer not null,
  high      integer,
  lost      integer,
  seedlings integer,
  person    integer references people,
  why       text not null,
  settled   text check (settled in ('kept', 'dropped')),
  entry     integer not null references journal
) strict;
create index doubtful_sowing on doubtful_counts (sowing);

-- A second person's figure for a look that has one: kept and flagged, not a correction.
create table second_readings (
  id        integer primary key,
  sowing    integer not null references sowings,
  at        integer not null,
  timed     integer not null check (timed in (0, 1)),
  kind      integer not null check (kind between 0 and 3),
  value     integer not null,
  high      integer,
  lost      integer,
  seedlings integer,
  person    integer references people,
  settled   text check (settled in ('kept', 'dropped')),
  entry     integer not null references journal
) strict;
create index second_reading_sowing on second_readings (sowing);

create table assessments (
  id      integer primary key,
  sowing  integer not null references sowings,
  day     text not null check (day is date(day, '+0 days')),
  outcome text not null check (outcome in ('hard', 'firm', 'rotted', 'empty', 'abnormal', 'died',
                                           'eaten', 'not-found')),
  units   integer not null check (units between 1 and 1000000000),
  person  integer references people,
  entry   integer not null references journal
) strict;
create index assessment_sowing on assessments (sowing);

create table temperatures (
  id     integer primary key,
  sowing integer references sowings,
  place  text collate nocase,
  day    text not null check (day is date(day, '+0 days')),
  time   text check (time glob '[0-2][0-9]:[0-5][0-9]' and time < '24:00'),
  spot_c real check (spot_c between -60 and 90),
  min_c  real check (min_c between -60 and 90),
  max_c  real check (max_c between -60 and 90),
  person integer references people,
  entry  integer not null references journal,
  check ((sowing is null) <> (place is null)),
  check (spot_c is not null or min_c is not null or max_c is not null),
  check (min_c is null or max_c is null or min_c <= max_c)
) strict;
create index temperature_sowing on temperatures (sowing);
create index temperature_place on temperatures (place) where place is not null;

create table moves (
  id     integer primary key,
  sowing integer not null references sowings,
  day    text not null check (day is date(day, '+0 days')),
  place  text not null collate nocase,
  entry  integer not null references journal
) strict;
create index move_sowing on moves (sowing, day);

create table notes (
  id    integer primary key,
  about text not null check (about in ('sowing', 'lot', 'trial', 'treatment')),
  of    integer not null,
  day   text not null check (day is date(day, '+0 days')),
  text  text not null check (length(text) > 0),
  person integer references people,
  entry integer not null references journal
) strict;
create index note_of on notes (about, of);

create table photographs (
  id      integer primary key,
  sowing  integer not null references sowings,
  day     text not null check (day is date(day, '+0 days')),
  path    text not null,
  caption text,
  entry   integer not null references journal
) strict;
create index photograph_sowing on photographs (sowing);
