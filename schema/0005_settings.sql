-- What is said once for the whole logbook. With this step the views are laid anew, too.
create table settings (
  id    integer primary key,
  name  text not null unique check (name in ('temperature_unit')),
  value text not null check (name <> 'temperature_unit' or value in ('C', 'F')),
  entry integer not null references journal
) strict;
