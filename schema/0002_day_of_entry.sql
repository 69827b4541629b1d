-- The grower's own day when a command was given (what --today says, else the clock's), beside the
-- moment in UTC: from here on it is kept. With this step guards and views are laid anew: of a guess
-- the derived total may lie below its middle, and an ending is no correction.

alter table journal add column day text check (day is date(day, '+0 days'));
