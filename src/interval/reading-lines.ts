/** What the latest readings call for at once: at or over the unsafe-at limit, or fitted at or over the replace-at limit. */
import type { Part } from "../fleet/fleet.ts";
import { LOOK, type ReadExports } from "../records/exports.ts";
import type { GroupKey } from "../records/life.ts";
import { addMonths, type Day } from "../units.ts";
import type { ComponentState, LookRow } from "./component-states.ts";
import type { ActNowLine } from "./month-result.ts";
import { placeOf } from "./place.ts";

const mm = (value: number): string => `${value.toFixed(3)} mm`;

/** Lines of one component's readings. One that was taken off is named for its readings of the last month alone. */
export function readingLines(
  exports: ReadExports,
  asOf: Day,
  { fitted, looks }: ComponentState,
  part: Pick<Part, "replaceAtMm" | "unsafeAtMm">,
  base: { readonly group: GroupKey; readonly serial: string },
): ActNowLine[] {
  const monthAgo = addMonths(asOf, -1);
  const latest = looks.at(-1);
  return looks.flatMap((look): ActNowLine[] => {
    const { table, row, isRejected } = look;
    const reading = table.wearMm[row]!;
    const isLatest = look === latest;
    if (!(table.day[row]! > monthAgo || (fitted && isLatest))) return [];
    const found = foundIn(look, fitted) + (isRejected ? "; the row was rejected: correct it" : "");
    const line = { ...base, ...placed(exports, look), found };
    if (part.unsafeAtMm !== null && reading >= part.unsafeAtMm)
      return [{ ...line, kind: "at or over unsafe-at limit", limit: `unsafe at ${mm(part.unsafeAtMm)}` }];
    const isOver = table.look[row] === LOOK.overLimit || reading >= part.replaceAtMm;
    if (!(fitted && isLatest && isOver)) return [];
    const limit = `replace at ${mm(part.replaceAtMm)}`;
    return [{ ...line, kind: "fitted at or over replace-at limit", limit }];
  });
}

function foundIn({ table, row }: LookRow, fitted: boolean): string {
  if (table.look[row] === LOOK.overLimit) return "recorded as over limit, no number";
  return `wear ${mm(table.wearMm[row]!)}${fitted ? ", still fitted by the records" : ", removed since"}`;
}

const placed = ({ files }: ReadExports, { table, row }: LookRow) => ({
  where: placeOf(table.aircraft, table.position, row),
  day: table.day[row]!,
  source: `${files[table.file[row]!]!.file}:${table.line[row]!}`,
});
