-- From here on each page of the file bears a seal (lib/logbook/file/seal.hpp), and each journal line
-- tells what it wrote: how many rows stand in the record by it when it ends, its changes among them,
-- and a digest of these rows and of the line itself (lib/logbook/journal/tally.hpp). Of lines of
-- before both are null. `accepted_at` is set where another program changed such rows since, and the
-- grower took the file as it then stood.
alter table journal add column row_count integer check (row_count >= 0);
alter table journal add column digest integer;
alter table journal add column accepted_at text;
