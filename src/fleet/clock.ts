/** What the hours of a fleet's lives count from. */
import type { Clock, Fleet } from "./fleet.ts";

/** The clock of the wear export, of removals where there is none; the roster counts on the same one. */
export const fleetClock = (fleet: Fleet): Clock =>
  (fleet.exports.wear ?? fleet.exports.removals)?.clock ?? "since new";

/** True where hours are the airframe's, to be turned into a component's by the roster. */
export const countsAirframeHours = (fleet: Fleet): boolean => fleetClock(fleet) === "airframe";
