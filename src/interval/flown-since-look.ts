/** Hours that watched components have flown since their last look: what is to be taken off their hours left. */
import { LOOK, type ReadExports } from "../records/exports.ts";
import type { Day } from "../units.ts";
import type { WatchLine } from "./month-result.ts";
import { hoursSinceLook, type OverdueContext } from "./overdue.ts";
import type { OwnWatchLine } from "./watch-list.ts";

/** Lines of the watch list with the hours flown since each last look, as "act now" counts them. */
export function withHoursFlown(lines: readonly OwnWatchLine[], context: OverdueContext): WatchLine[] {
  const lastLook = lastLooks(context.exports, context.asOf, new Set(lines.map(({ component }) => component)));
  return lines.map(({ component, ...line }) => {
    const row = lastLook.get(component);
    const hours = row === undefined ? null : (hoursSinceLook(context, component, row)?.hours ?? null);
    // A roster older than the look knows nothing of the hours since.
    return { ...line, hoursFlownSince: hours === null || hours < 0 ? null : hours };
  });
}

/** Row of the latest look of each wanted component that says something. */
function lastLooks(
  { wear }: ReadExports,
  asOf: Day,
  wanted: ReadonlySet<number>,
): ReadonlyMap<number, number> {
  const latest = new Map<number, number>();
  if (wear === null) return latest;
  const isLater = (row: number, than: number) =>
    wear.day[row]! > wear.day[than]! ||
    (wear.day[row] === wear.day[than] && wear.hours[row]! >= wear.hours[than]!);
  for (let row = 0; row < wear.rows; row++) {
    const component = wear.component[row]!;
    if (wear.day[row]! > asOf || wear.look[row] === LOOK.unknown || !wanted.has(component)) continue;
    const known = latest.get(component);
    if (known === undefined || isLater(row, known)) latest.set(component, row);
  }
  return latest;
}
