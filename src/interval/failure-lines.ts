/** Failures in service that nobody was told of yet, by the removal rows alone, whatever became of the component since. */
import { FINDING, FOUND_AT, NO_DAY, type ReadExports, type RemovalRows, wordAt } from "../records/exports.ts";
import type { GroupKey } from "../records/life.ts";
import { WEAR_MODE } from "../records/words.ts";
import { addMonths, type Day } from "../units.ts";
import type { FailureRecord } from "./failure-record.ts";
import type { ActNowLine } from "./month-result.ts";
import { placeOf } from "./place.ts";

/**
 * A line for each failure of the last month, and for each older one that wasn't known a month ago: those first exported
 * since. Where the exports don't say when, those of the month before are named again, since they may have come late.
 *
 * @param baseOf  group and serial of a component
 */
export function failureLines(
  exports: ReadExports,
  asOf: Day,
  { failures, open }: FailureRecord,
  baseOf: (component: number) => { readonly group: GroupKey; readonly serial: string },
): ActNowLine[] {
  const { removals, setAside, files } = exports;
  const isNew = newness(removals, asOf);
  const linesOf = (rows: RemovalRows, isRejected: boolean): ActNowLine[] => {
    const lines: ActNowLine[] = [];
    for (let row = 0; row < rows.rows; row++) {
      if (!isFailure(rows, row) || !isNew(rows, row)) continue;
      const base = baseOf(rows.component[row]!);
      const source = `${files[rows.file[row]!]!.file}:${rows.line[row]!}`;
      const recorded = [...failures, ...open].find((one) => one.source === source);
      lines.push({
        serial: base.serial,
        group: recorded?.group ?? base.group,
        kind: "functional failure",
        where: placeOf(rows.aircraft, rows.position, row),
        found: foundIn(rows, row) + (isRejected ? "; the row was rejected: correct it" : ""),
        limit: "no failure in service is expected between looks",
        day: rows.day[row]!,
        source,
      });
    }
    return lines;
  };
  const lines = [
    ...(removals === null ? [] : linesOf(removals, false)),
    ...(setAside.removals === null ? [] : linesOf(setAside.removals, true)),
  ];
  return lines.sort((a, b) => (a.serial < b.serial ? -1 : a.serial > b.serial ? 1 : a.day - b.day));
}

/** By wear, in service, not refuted by the shop; of a known component, on a known day. */
const isFailure = (rows: RemovalRows, row: number): boolean =>
  rows.found[row] === FOUND_AT.service &&
  rows.finding[row] !== FINDING.noFaultFound &&
  rows.mode.words[rows.mode.codes[row]!] === WEAR_MODE &&
  rows.component[row]! >= 0 &&
  rows.day[row] !== NO_DAY;

function newness(accepted: RemovalRows | null, asOf: Day): (rows: RemovalRows, row: number) => boolean {
  const [monthAgo, twoMonthsAgo] = [addMonths(asOf, -1), addMonths(asOf, -2)];
  // Only beside an earlier export does a day of export tell what is new in this one.
  const hasEarlier = accepted?.exported.some((day) => day !== NO_DAY && day <= monthAgo) ?? false;
  return (rows, row) => {
    const day = rows.day[row]!;
    const exported = rows.exported[row]!;
    if (day > asOf) return false;
    return day > monthAgo || (hasEarlier && exported !== NO_DAY ? exported > monthAgo : day > twoMonthsAgo);
  };
}

function foundIn(rows: RemovalRows, row: number): string {
  const hours = rows.hours[row]!;
  const at = Number.isNaN(hours) ? "" : ` at ${Math.round(hours)} h`;
  return `removed in service for ${wordAt(rows.cause, row) ?? "wear"}${at}`;
}
