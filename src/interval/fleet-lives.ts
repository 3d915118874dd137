/** The lives of a fleet on a day, as every command cuts them. */
import { countsAirframeHours } from "../fleet/clock.ts";
import type { Fleet } from "../fleet/fleet.ts";
import { presentInterval } from "../fleet/intervals.ts";
import type { ReadExports } from "../records/exports.ts";
import { rememberedBy } from "../records/group-keys.ts";
import type { GroupKey } from "../records/life.ts";
import { buildLives, type Lives } from "../records/lives.ts";
import type { Day } from "../units.ts";

/** The lives of a fleet as of a day. */
export const fleetLives = (fleet: Fleet, exports: ReadExports, asOf: Day): Lives =>
  buildLives(exports, {
    asOf,
    parts: fleet.parts,
    airframeClock: countsAirframeHours(fleet),
    presentIntervalH: rememberedBy((group) => shortestInterval(fleet, group, asOf)),
  });

/** The shortest present interval of the tasks that cover a group; null where none does. */
export function shortestInterval(fleet: Fleet, group: GroupKey, asOf: Day): number | null {
  const intervals = fleet.tasks
    .filter(({ part }) => part === group.part)
    .map((task) => presentInterval(fleet, task, group.environment, group.standard, asOf).intervalH);
  return intervals.length === 0 ? null : Math.min(...intervals);
}
