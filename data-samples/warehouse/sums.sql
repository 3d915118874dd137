-- 3. Sums: of each piece of a life, the readings' count, means and centred squares and products. The wear models need no
-- more of them, however many readings there were. The last and the highest reading are for the lists of components.
--
-- Centred, because squares of hours are so large that their difference has lost the digits that a slope needs.
create or replace table sums as
with readings as (select * from piece_rows where kind = 'look' and wear_mm is not null),
means as (
  select part, serial, life, piece, count(*) as readings, avg(hours) as mean_hours, avg(wear_mm) as mean_wear_mm,
    last(hours order by place) as last_hours, last(day order by place) as last_day,
    last(wear_mm order by place) as last_wear_mm, max(wear_mm) as highest_wear_mm
  from readings group by all
)
select m.part, m.serial, m.life, m.piece, m.readings, mean_hours, mean_wear_mm,
  sum((r.hours - mean_hours) * (r.hours - mean_hours)) as hours_squared,
  sum((r.hours - mean_hours) * (r.wear_mm - mean_wear_mm)) as hours_wear,
  sum((r.wear_mm - mean_wear_mm) * (r.wear_mm - mean_wear_mm)) as wear_squared,
  last_hours, last_day, last_wear_mm, highest_wear_mm
from means m join readings r using (part, serial, life, piece)
group by all;
