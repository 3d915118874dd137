-- 1. Rows: the exports as typed rows, recorded words turned into what the fleet file says they mean.
--
-- For the demonstration's headings and dialects. A warehouse has such rows already: make views of these names and columns
-- instead. What `rotorwear check` refuses, repeats and unknown words must have been settled before; here every row counts.
-- Parameters: {exports} the folder, {as_of} the last day that counts (YYYY-MM-DD).

create or replace table settings as select date '{as_of}' as as_of;

-- Limits, and the present interval of each group: the shortest of the tasks that cover it, hours.
create or replace table parts as
select * from (values ('grip bearing', 0.50::double), ('link bearing', 0.30::double)) as t (part, replace_at_mm);
create or replace table intervals as
select part, environment, standard, interval_h::double as interval_h from read_csv('{intervals}', header = true);

create or replace macro part_of(number) as case number when 'LB-220-1' then 'link bearing' else 'grip bearing' end;
create or replace macro environment_of(base) as
  case base when 'Saltpan North' then 'sandy' when 'Saltpan South' then 'sandy' when 'Coast' then 'coastal'
            when 'Highland' then 'highland' when 'Valley' then 'temperate' end;
create or replace macro standard_of(ring) as case ring when 'P' then 'plain' when 'S' then 'shielded' end;
create or replace macro day_of(text) as strptime(text, '%d.%m.%Y')::date;
create or replace macro number_of(text) as try_cast(replace(text, ',', '.') as double);

create or replace table looks as
select part_of("Part no") as part, "Serial" as serial, day_of("Inspected") as day, number_of("Hours") as hours,
       number_of("Wear [mm]") as wear_mm, "Wear [mm]" = 'US' as over_in_words, -- no number and not US: SAT
       "Tail" as aircraft, "Arm" as position, environment_of("Base") as environment, standard_of("Ring") as standard
from read_csv('{exports}/wear-*.csv', delim = ';', header = true, all_varchar = true, encoding = 'latin-1');

create or replace table removals as
select part_of("Part no") as part, "Serial" as serial, day_of("Removed") as day, number_of("Hours") as hours,
       case when "Reason" in ('WORN', 'LINER WORN') then 'wear'
            when "Reason" = 'SEAL LEAK' then 'seal'
            else 'not a failure' end as mode,
       coalesce("Found" = 'SVC', false) as in_service, coalesce("Shop finding" = 'NFF', false) as no_fault_found,
       "Tail" as aircraft, "Arm" as position, environment_of("Base") as environment, standard_of("Ring") as standard
from read_csv('{exports}/removals-*.csv', delim = ';', header = true, all_varchar = true);

create or replace table installed as
select part_of("Part no") as part, "Serial" as serial, day_of("Installed") as installed_on,
       number_of("Hours at installation") as hours_at_installation,
       "Tail" as aircraft, environment_of("Base") as environment
from read_csv('{exports}/installed-*.csv', delim = ';', header = true, all_varchar = true, encoding = 'latin-1');

create or replace table flying as
select strptime("Month" || '-01', '%Y-%m-%d')::date as month, "Tail" as aircraft,
       environment_of("Base") as environment, number_of("Hours") as hours
from read_csv('{exports}/flying-*.csv', delim = ',', header = true, all_varchar = true);
