/** Hours that fall without a removal, or rise faster than the calendar allows. */

import { countsAirframeHours } from "../fleet/clock.ts";
import { SAME_HOURS } from "../records/same-hours.ts";
import { isoDate } from "../units.ts";
import { breaks, placeOf, type RowChecks, rowsOf } from "./remarks.ts";

const HOURS_A_DAY = 24;

/** Remarks on hours; marks in `doubtful` the rows whose hours are the odd ones. */
export function checkHours(checks: RowChecks, doubtful: Uint8Array): void {
  const { wear, components } = checks.exports;
  if (wear === null) return;
  for (let component = 0; component < components.count; component++) {
    if (followsThroughout(checks, component)) continue;
    const rows = rowsOf(checks.looks, component);
    const trusted: number[] = [];
    for (let at = 0; at < rows.length; at++) {
      const row = rows[at]!;
      const previous = trusted.at(-1);
      const odd = previous === undefined ? null : compare(checks, component, previous, row);
      if (odd === null) {
        trusted.push(row);
        continue;
      }
      const next = rows[at + 1];
      const before = trusted.at(-2);
      const comesBack = next !== undefined && compare(checks, component, previous!, next) === null;
      // A fall after a jump: the row before was too high, and this one is in line with the row before that.
      const wasHigh =
        odd === "fall" && before !== undefined && compare(checks, component, before, row) === null;
      if (!comesBack && wasHigh && isSteep(checks, before, previous!)) {
        trusted.pop();
        trusted.push(row);
        tell(checks, "jump", before, previous!, doubtful);
        continue;
      }
      tell(checks, odd, previous!, row, doubtful);
      if (!comesBack) trusted.push(row);
    }
  }
}

/** True where the hours of each look follow from the look before, as nearly all do. */
function followsThroughout(checks: RowChecks, component: number): boolean {
  const { start, order } = checks.looks!;
  for (let at = start[component]! + 1; at < start[component + 1]!; at++)
    if (compare(checks, component, order[at - 1]!, order[at]!) !== null) return false;
  return true;
}

/** null: the later row's hours follow from the earlier one's. */
function compare(checks: RowChecks, component: number, from: number, to: number): "fall" | "jump" | null {
  const { wear } = checks.exports;
  const airframe = countsAirframeHours(checks.fleet);
  if (airframe && wear!.aircraft.codes[from] !== wear!.aircraft.codes[to]) return null;
  const rise = wear!.hours[to]! - wear!.hours[from]!;
  const days = wear!.day[to]! - wear!.day[from]!;
  if (rise < -SAME_HOURS) return breaks(checks, component, wear!.day[from]!, wear!.day[to]!) ? null : "fall";
  return rise > HOURS_A_DAY * (days + 1) ? "jump" : null;
}

/** Rises more than half round the clock: suspicious only together with a fall right after. */
function isSteep(checks: RowChecks, from: number, to: number): boolean {
  const { hours, day } = checks.exports.wear!;
  return hours[to]! - hours[from]! > (HOURS_A_DAY / 2) * (day[to]! - day[from]! + 1);
}

function tell(
  checks: RowChecks,
  odd: "fall" | "jump",
  from: number,
  row: number,
  doubtful: Uint8Array,
): void {
  const { wear } = checks.exports;
  doubtful[row] = 1;
  const before = `${wear!.hours[from]} h on ${isoDate(wear!.day[from]!)} (${placeOf(checks.exports, "wear", from)})`;
  const found = `${wear!.hours[row]} h on ${isoDate(wear!.day[row]!)}`;
  const most = HOURS_A_DAY * (wear!.day[row]! - wear!.day[from]! + 1);
  checks.remark({
    code: odd === "fall" ? "W-HOURS-FALL" : "W-HOURS-JUMP",
    kind: "wear",
    row,
    field: "hours",
    expected:
      odd === "fall"
        ? `no fewer hours than ${before}, since no removal is between`
        : `at most ${most} h more than ${before}`,
    found,
  });
}
