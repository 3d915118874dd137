/** The gap readings of a fleet on a day, joined to the components that were there. */
import { countsAirframeHours, fleetClock } from "../fleet/clock.ts";
import type { Fleet } from "../fleet/fleet.ts";
import type { ReadExports } from "../records/exports.ts";
import { type GapJoin, joinGaps } from "../records/gap-join.ts";
import type { Day } from "../units.ts";

export const fleetGaps = (fleet: Fleet, exports: ReadExports, asOf: Day): GapJoin =>
  joinGaps(exports, {
    asOf,
    airframeClock: countsAirframeHours(fleet),
    sameClock: fleet.exports.gaps?.clock === fleetClock(fleet),
  });
