-- 2. Lives: one row for each run of one component's clock in one group, by the rules of the program's lives.csv.
--
-- Reads looks, removals, installed, flying, parts, intervals and settings (rows.sql). Hours are flight hours since new.
-- Components whose rows need a person or the program (hours that jump, or fall and come back; rows after a removal for
-- cause) are cut into no life: they stand in `unclear`, which should be empty.

-- Looks and removals in order; on one day the look comes before the removal it led to, also where that is recorded at
-- fewer hours (a day has 24).
create or replace table events as
select *, row_number() over (partition by part, serial order by day, order_hours, kind) as place
from (
  select part, serial, 'look' as kind, day, hours, wear_mm, coalesce(wear_mm >= replace_at_mm, over_in_words) as is_over,
         null as mode, false as in_service, false as no_fault_found, aircraft, position, environment, standard,
         hours - case when exists (
           from removals r where r.part = looks.part and r.serial = looks.serial and r.day = looks.day
             and abs(r.hours - looks.hours) <= 24 and coalesce(r.aircraft = looks.aircraft, true)
         ) then 24.0000001 else 1.0000001 end as order_hours
  from looks join parts using (part), settings where day <= as_of
  union all
  select part, serial, 'removal', day, hours, null, false, mode, in_service, no_fault_found, aircraft, position,
         environment, standard, hours
  from removals, settings where day <= as_of
);

-- The latest fitting in the roster between an event and the one before it.
create or replace macro refits(followers) as table
select f.part, f.serial, f.place, max_by(i.hours_at_installation, i.installed_on) as refitted_hours
from query_table(followers) f
join installed i on i.part = f.part and i.serial = f.serial and i.installed_on between f.day_before and f.day
where f.kind_before = 'removal'
group by all;

-- A component taken off twice, with no hours flown and not fitted in between, was taken off once: the second row is left out.
create or replace table followers as
select *, lag(kind) over component as kind_before, lag(hours) over component as hours_before,
       lag(day) over component as day_before
from events window component as (partition by part, serial order by place);

create or replace table left_out as
select part, serial, place from followers left join refits('followers') using (part, serial, place)
where kind = 'removal' and kind_before = 'removal' and hours <= hours_before + 1
  and not (hours < hours_before - 1 or coalesce(refitted_hours < hours_before - 1, false));

-- Where another life starts: hours fall after a removal, or the roster has it fitted anew in between.
create or replace table kept_followers as
select *, lag(kind) over kept as kind_before, lag(hours) over kept as hours_before,
       lag(day) over kept as day_before,
       lag(mode = 'not a failure' or no_fault_found) over kept as may_go_on
from events anti join left_out using (part, serial, place)
window kept as (partition by part, serial order by place);

create or replace table life_events as
with marked as (
  select k.*, case when kind_before = 'removal'
      and (hours < hours_before - 1 or coalesce(refitted_hours < hours_before - 1, false)) then 'after removal' end as starts
  from kept_followers k left join refits('kept_followers') using (part, serial, place)
), judged as (
  select *,
    case when kind_before = 'removal' and starts is null then not may_go_on
         when kind_before = 'look' and kind = 'look'
           then hours < hours_before - 1 or hours - hours_before > 24 * (day - day_before + 1)
         else false end as is_unclear
  from marked
)
select *, 1 + count(starts) over (partition by part, serial order by place) as life,
       bool_or(is_unclear) over (partition by part, serial) as component_is_unclear
from judged;

create or replace table unclear as
select part, serial, count(*) as rows from life_events where component_is_unclear group by all;
delete from life_events where component_is_unclear;

-- Each life: its first row (a look where there is one), its last look, and the removal that ended it.
create or replace table runs as
with whole as (
  select part, serial, life, first(starts order by place) as starts,
    count(*) filter (kind = 'look') as looks,
    coalesce(min(place) filter (kind = 'look'), min(place)) as first_place, max(place) as last_place,
    max(place) filter (kind = 'look') as last_look_place,
    (array_agg(hours order by place) filter (kind = 'look'))[2] as second_look_hours
  from life_events group by all
), joined as (
  select w.*, f.day as first_day, f.hours as first_hours, f.aircraft as first_aircraft, f.environment as first_environment,
    f.standard as first_standard, f.is_over as first_is_over, l.day as last_look_day, l.hours as last_look_hours,
    e.kind = 'removal' as removed, e.day as end_day, e.hours as end_hours, e.mode, e.in_service, e.no_fault_found,
    e.aircraft as end_aircraft, e.position as end_position
  from whole w
  join life_events f on f.part = w.part and f.serial = w.serial and f.place = w.first_place
  join life_events e on e.part = w.part and e.serial = w.serial and e.place = w.last_place
  left join life_events l on l.part = w.part and l.serial = w.serial and l.place = w.last_look_place
)
select *,
  case when starts = 'after removal' then lag(end_day) over own end as removed_on,
  case when looks > 0 and end_day <> first_day and end_hours > first_hours
       then (end_hours - first_hours) / (end_day - first_day) end as own_hours_per_day
from joined window own as (partition by part, serial order by life);

-- Where the hours before a row were flown: as `flying` has the aircraft's most hours over the months touched, else the
-- base of the aircraft that it was fitted to, else as the row itself records.
create or replace macro placed(asks) as table
with fitted as (
  select a.part, a.serial, a.place, max_by(i.aircraft, i.installed_on) as aircraft,
         max_by(i.environment, i.installed_on) as environment
  from query_table(asks) a join installed i on i.part = a.part and i.serial = a.serial and i.installed_on <= a.from_day
  group by all
), asked as (
  select a.*, coalesce(a.aircraft, f.aircraft) as flown_by, f.environment as base
  from query_table(asks) a left join fitted f using (part, serial, place)
), totals as (
  select a.part, a.serial, a.place, f.environment, sum(f.hours) as hours
  from asked a join flying f
    on f.aircraft = a.flown_by and f.month between date_trunc('month', a.from_day) and a.day
  group by all having sum(f.hours) > 0
), most as (
  select part, serial, place, arg_max(environment, hours) as flown_in from totals group by all
)
select a.part, a.serial, a.place, coalesce(flown_in, base, a.environment, 'unassigned') as environment,
       case when flown_in is not null then 1 when base is not null then 2 else 3 end as said_by
from asked a left join most using (part, serial, place);

-- Entry: where a life came under observation. It counts only given that it got that far.
create or replace table first_asks as
select part, serial, first_place as place, first_day as from_day, first_day as day, first_aircraft as aircraft,
       first_environment as environment
from runs;

-- Hours from the first look of a life to its second, as they were usual in a group in a year.
create or replace table spacings as
select part, p.environment, first_standard as standard, year(first_day) as year,
       median(second_look_hours - first_hours) as look_interval_h
from runs r join placed('first_asks') p using (part, serial) where p.place = r.first_place and looks >= 2
group by all having count(*) >= 5;

-- When the records begin: by aircraft, where none is named by environment, else for all.
create or replace table recorded as
select aircraft, environment, day from looks union all select aircraft, environment, day from removals;

create or replace table entries as
with usual as (
  select sum(last_look_hours - first_hours) / sum(last_look_day - first_day) as hours_per_day
  from runs where looks > 0 and last_look_day > first_day
), begin_all as (
  select min(day) as day from recorded
), begin_aircraft as (
  select aircraft, min(day) as day from recorded where aircraft is not null group by all
), begin_unnamed as (
  select environment, min(day) as day from recorded where aircraft is null and environment is not null group by all
), roster as (
  select r.part, r.serial, r.life, max(i.installed_on) as installed_on,
         max_by(i.hours_at_installation, i.installed_on) as hours
  from runs r join installed i on i.part = r.part and i.serial = r.serial and i.installed_on <= r.first_day
  group by all
), known as (
  select r.*, coalesce(ba.day, case when first_aircraft is null then bu.day end, begin_all.day) as records_begin,
    coalesce(own_hours_per_day, hours_per_day) as hours_per_day, f.installed_on, f.hours as fitted_hours,
    coalesce(s.look_interval_h, i.interval_h, 0) as look_interval_h,
    r.first_day + floor(0.5 - first_hours / coalesce(own_hours_per_day, hours_per_day))::integer as from_new_day,
    coalesce(f.installed_on >= removed_on and f.hours <= first_hours, false) as is_refitted
  from runs r cross join usual cross join begin_all
  left join begin_aircraft ba on ba.aircraft = r.first_aircraft
  left join begin_unnamed bu on bu.environment = r.first_environment
  left join roster f using (part, serial, life)
  left join placed('first_asks') p on p.part = r.part and p.serial = r.serial and p.place = r.first_place
  left join intervals i on i.part = r.part and i.environment = p.environment and i.standard = r.first_standard
  left join spacings s on s.part = r.part and s.environment = p.environment and s.standard = r.first_standard
    and s.year = year(r.first_day)
), ruled as (
  select *, case
    when removed_on is not null and case when is_refitted then fitted_hours <= 1
         else first_hours <= 3 * hours_per_day * (first_day - removed_on + 1) end then 'from nothing'
    when removed_on is not null and is_refitted then 'refitted'
    when starts is not null then 'first look'
    when installed_on >= records_begin and fitted_hours <= first_hours then 'refitted'
    when fitted_hours <= first_hours then 'fitted before'
    when from_new_day >= records_begin then 'from new'
    else 'under way' end as rule
  from known where hours_per_day is not null
), watched as (
  select *, case rule
    when 'refitted' then fitted_hours
    when 'fitted before'
      then fitted_hours + (first_hours - fitted_hours) * ((records_begin - installed_on) / (first_day - installed_on))
    when 'first look' then first_hours
    when 'under way' then greatest(0, first_hours - (first_day - records_begin) * hours_per_day)
    else 0 end as watched_from_hours,
    -- Its last look before: as long before its first as looks were apart then, at the latest where watching began.
    least(watched_from_hours, greatest(0, first_hours - look_interval_h)) as last_look_before
  from ruled
)
select part, serial, life,
  case when rule in ('from nothing', 'from new') then 0
    when rule = 'first look'
      then case when looks > 0 and first_is_over then greatest(0, first_hours - look_interval_h) else first_hours end
    when last_look_before <= 0.1 * look_interval_h then 0
    else last_look_before end as entry_hours,
  watched_from_hours as observed_from_hours,
  case rule
    when 'from nothing' then greatest(records_begin, case when is_refitted then installed_on else removed_on end,
                                      least(from_new_day, first_day))
    when 'refitted' then installed_on
    when 'first look' then first_day
    when 'from new' then from_new_day
    else records_begin end as from_day
from watched;

-- Pieces: a life is cut where the environment or the standard of its hours changes, until it is found over the limit. The
-- removal is the last moment of a life, where it is another one than its last look's; its standard is that look's.
create or replace table moments as
with stepped as (
  select e.*, r.looks, r.first_place, kind = 'removal' and place = r.last_place as is_removal_of_life,
    coalesce(bool_or(is_over) over (whole rows between unbounded preceding and 1 preceding), false) as is_after_over,
    last_value(case when kind = 'look' then day end ignore nulls)
      over (whole rows between unbounded preceding and 1 preceding) as look_day_before,
    last_value(case when kind = 'look' then hours end ignore nulls)
      over (whole rows between unbounded preceding and 1 preceding) as look_hours_before
  from life_events e join runs r using (part, serial, life)
  window whole as (partition by part, serial, life order by place)
)
select * from stepped
where kind = 'look' or looks = 0 and place = first_place
  or is_removal_of_life and not is_after_over and day <> look_day_before and hours > look_hours_before + 1;

create or replace table moment_asks as
select m.part, m.serial, m.place, m.day, m.aircraft, m.environment, coalesce(look_day_before, n.from_day) as from_day
from moments m join entries n using (part, serial, life);

create or replace table piece_rows as
with steps as (
  -- Where no hours were flown since the look before, nothing moved; nor where the removal doesn't say where.
  select m.*, p.environment as flown_in, p.said_by,
    look_hours_before is null or not is_after_over and hours > look_hours_before + 1
      and not (kind = 'removal' and p.environment = 'unassigned') as is_step
  from moments m join placed('moment_asks') p using (part, serial, place)
), settled as (
  select * replace (
    last_value(case when is_step then flown_in end ignore nulls) over up_to as flown_in,
    last_value(case when is_step and (kind = 'look' or looks = 0) then standard end ignore nulls) over up_to as standard,
    case when is_step then said_by end as said_by)
  from steps
  window up_to as (partition by part, serial, life order by place rows between unbounded preceding and current row)
), moved as (
  select *, coalesce(flown_in <> lag(flown_in) over whole or standard <> lag(standard) over whole, false) as is_move
  from settled window whole as (partition by part, serial, life order by place)
)
select *, 1 + count(*) filter (is_move) over (partition by part, serial, life order by place) as piece
from moved;

-- Own lines of whole lives, and the scatter about them: whether an early removal would have reached the limit.
create or replace table own_lines as
with readings as (select * from life_events where kind = 'look' and wear_mm is not null),
means as (
  select part, serial, life, count(*) as n, avg(hours) as mean_hours, avg(wear_mm) as mean_mm,
    first(hours order by place) as first_hours, last(hours order by place) as last_hours,
    last(wear_mm order by place) as last_mm, last(day order by place) as last_day
  from readings group by all
)
select m.*, sum((r.hours - mean_hours) * (r.hours - mean_hours)) as squares,
  sum((r.hours - mean_hours) * (r.wear_mm - mean_mm)) as products
from means m join readings r using (part, serial, life) group by all;

create or replace table scatters as
with residuals as (
  select part, n, 1 - 1 / n - (hours - mean_hours) * (hours - mean_hours) / squares as room,
    wear_mm - mean_mm - products / squares * (hours - mean_hours) as residual
  from own_lines o join life_events e using (part, serial, life)
  where n >= 3 and o.last_hours <> o.first_hours and e.kind = 'look' and wear_mm is not null
)
select p.part, coalesce(1.4826 * median(abs(residual) / sqrt(room)) filter (room >= 0.1), 0) as scatter_mm
from parts p left join residuals using (part) group by all;

-- The lives themselves.
create or replace table lives as
with as_known as (select as_of from settings),
looked as (
  -- Looks up to the one that found it over the limit, for the counts of looks made; and how many had a number.
  select part, serial, life, piece, string_agg(hours::text, ' ' order by place) as look_hours,
    string_agg(day::text, ' ' order by place) as look_days, count(wear_mm) as looks_with_number
  from piece_rows where kind = 'look' and not is_after_over group by all
), pieces as (
  select part, serial, life, piece,
    first(flown_in order by place) as environment, first(standard order by place) as standard,
    max(said_by) as said_by,
    first(day order by place) as first_day,
    min(place) filter (is_over) as over_place,
    last(hours order by place) filter (kind = 'look') as last_look_hours,
    last(day order by place) filter (kind = 'look') as last_look_day,
    last(aircraft order by place) filter (kind = 'look') as aircraft,
    last(position order by place) filter (kind = 'look') as position,
    last(is_over order by place) filter (kind = 'look') as last_look_over
  from piece_rows group by all
), chained as (
  select p.*, lag(last_look_hours) over whole as moved_at_hours,
    piece = max(piece) over (partition by part, serial, life) as is_last
  from pieces p window whole as (partition by part, serial, life order by piece)
), entered as (
  select c.*, coalesce(moved_at_hours, entry_hours) as entry, coalesce(moved_at_hours, observed_from_hours) as observed_from,
    coalesce(interval_h, 0) as interval_h, n.from_day,
    o.hours as over_hours, o.day as over_day,
    is_last and r.removed as removed, r.end_day as off_day, r.end_hours as off_hours, r.mode, r.in_service, r.no_fault_found,
    r.end_aircraft, r.end_position
  from chained c join entries n using (part, serial, life) join runs r using (part, serial, life)
  left join intervals i on i.part = c.part and i.environment = c.environment and i.standard = c.standard
  left join piece_rows o on o.part = c.part and o.serial = c.serial and o.place = c.over_place
), lined as (
  select e.*, n as readings, own.last_day as read_day, own.last_hours as read_hours,
    coalesce(mode = 'wear' and in_service and not no_fault_found, false) and removed as failed,
    case when n = 1 or own.last_hours = own.first_hours
      then case when own.last_hours > 0
        then last_mm * ((off_hours + interval_h) / own.last_hours)
          + 0.8416212335729143 * scatter_mm * sqrt(1 + ((off_hours + interval_h) / own.last_hours) ** 2) end
      else mean_mm + products / squares * (off_hours + interval_h - mean_hours) + 0.8416212335729143 * scatter_mm
          * sqrt(1 + 1 / n + (off_hours + interval_h - mean_hours) ** 2 / squares) end as reading_by_then_mm,
    replace_at_mm
  from entered e left join own_lines own using (part, serial, life) join scatters using (part) join parts using (part)
), ended as (
  select *, case
      when over_place is not null then 'over limit found'
      when not removed then case when is_last then 'still fitted' else 'moved' end
      when failed then 'functional failure'
      when mode = 'wear' and not no_fault_found
        and not coalesce(read_day = off_day or abs(read_hours - off_hours) <= 1, false) then 'unread removal'
      when reading_by_then_mm >= replace_at_mm then 'early removal'
      else 'removed' end as "end"
  from lined
), found as (
  -- Good looks count up to the event: before the look that found it, or an hour before the removal.
  select e.part, e.serial, e.life, e.piece,
    max(r.hours) filter (r.kind = 'look' and not r.is_over
      and r.hours < case when e."end" = 'over limit found' then e.over_hours else e.off_hours - 1 end) as last_good_hours
  from ended e join piece_rows r using (part, serial, life, piece) group by all
)
select e.part, e.environment, e.standard, e.serial, e.life, e.piece, entry as entry_hours,
  case when e."end" in ('over limit found', 'functional failure', 'unread removal', 'early removal')
    then greatest(entry, last_good_hours) else greatest(entry, last_look_hours) end as lower_hours,
  case when e."end" = 'over limit found' then over_hours
    when e."end" in ('functional failure', 'unread removal', 'early removal')
      then greatest(off_hours, greatest(entry, last_good_hours) + 1) end as upper_hours, -- empty: no event
  e."end", piece > 1 or entry > 0 as late_entry, observed_from as observed_from_hours,
  greatest(observed_from, last_look_hours, case when removed then off_hours end) as last_hours,
  case said_by when 1 then 'flying' when 2 then 'base' else 'later reading' end as environment_from,
  coalesce(e.aircraft, end_aircraft) as aircraft, coalesce(e.position, end_position) as position,
  first_day, case when removed then off_day else last_look_day end as last_day,
  case when e."end" = 'over limit found' then over_day
    when e."end" in ('functional failure', 'unread removal', 'early removal') then off_day end as event_day,
  case when removed then off_day end as removed_day, case when removed then mode end as removal_mode,
  case when removed then in_service end as removed_in_service, case when removed then no_fault_found end as no_fault_found,
  case when failed then off_hours end as functional_failure_hours,
  look_hours, look_days, coalesce(looks_with_number, 0) as looks_with_number,
  last_look_day, last_look_hours, last_look_over, as_of
from ended e left join found using (part, serial, life, piece) left join looked using (part, serial, life, piece), as_known;
