/**
 * What shortcuts would have said: the same lives fitted as inspection data often are, and by how much that misleads.
 */
import type { LifeTable } from "../records/life-table.ts";
import { lifeAt } from "./profile-bounds.ts";
import { fitWeibull, type WeibullFit } from "./weibull-fit.ts";

export interface NaiveView {
  readonly name:
    | "midpoints as exact"
    | "found at as failed at"
    | "late entry ignored"
    | "hours after the last look counted";
  /** What was done, for a reader. */
  readonly what: string;
  readonly fit: WeibullFit;
  /** The life by which the fraction has had the event, naive over proper; null where one of them has no fit. */
  readonly lifeRatio: number | null;
  readonly sentence: string;
}

export interface NaiveOptions {
  /** Fraction whose life is compared. __Default value:__ 0.1 */
  readonly fraction?: number;
  /** Hours of each row at removal or at the report date, past its last look; without it that shortcut isn't shown. */
  readonly hoursFlown?: Float64Array;
}

/** Only shortcuts that change something for this table are shown. */
export function naiveViews(table: LifeTable, options: NaiveOptions = {}): NaiveView[] {
  const fraction = options.fraction ?? 0.1;
  const proper = fitWeibull(table);
  const tables: [NaiveView["name"], string, LifeTable | null][] = [
    ["midpoints as exact", "taking each event as at the middle of its interval", exactAt(table, 0.5)],
    [
      "found at as failed at",
      "taking the hours of the look that found it as the hours of the event",
      exactAt(table, 1),
    ],
    [
      "late entry ignored",
      "counting lives that came under observation late as seen from new",
      fromNew(table),
    ],
    [
      "hours after the last look counted",
      "counting hours flown after the last look as hours without the event",
      options.hoursFlown === undefined ? null : flownOn(table, options.hoursFlown),
    ],
  ];
  return tables.flatMap(([name, what, naive]) => {
    if (naive === null) return [];
    const fit = fitWeibull(naive);
    return [{ name, what, fit, ...compare(what, fit, proper, fraction) }];
  });
}

function compare(
  what: string,
  naive: WeibullFit,
  proper: WeibullFit,
  fraction: number,
): { lifeRatio: number | null; sentence: string } {
  const life = `${Number((100 * fraction).toPrecision(4))} % life`;
  const start = `${what[0]!.toUpperCase()}${what.slice(1)}`;
  if (naive.kind === "none" || proper.kind === "none") {
    const which = naive.kind === "none" ? "that has no fit" : "the lives as they are have no fit";
    return { lifeRatio: null, sentence: `${start}: ${which}, so nothing to compare.` };
  }
  const ratio = lifeAt(naive, fraction) / lifeAt(proper, fraction);
  const percent = Math.round(Math.abs(ratio - 1) * 100);
  const hours = `${Math.round(lifeAt(naive, fraction))} h instead of ${Math.round(lifeAt(proper, fraction))} h`;
  const verdict =
    percent === 0
      ? `changes the ${life} by less than 1 %`
      : `makes the ${life} ${percent} % too ${ratio > 1 ? "long" : "short"} (${hours})`;
  return { lifeRatio: ratio, sentence: `${start} ${verdict}.` };
}

/** Events at a share of their interval; null where there are no intervals. */
function exactAt(table: LifeTable, share: number): LifeTable | null {
  const isInterval = (i: number) =>
    table.upperHours[i]! < Number.POSITIVE_INFINITY && table.upperHours[i]! > table.lowerHours[i]!;
  if (!table.upperHours.some((_, i) => isInterval(i))) return null;
  const at = (i: number) => table.lowerHours[i]! + share * (table.upperHours[i]! - table.lowerHours[i]!);
  return {
    ...table,
    lowerHours: table.lowerHours.map((lower, i) => (isInterval(i) ? at(i) : lower)),
    upperHours: table.upperHours.map((upper, i) => (isInterval(i) ? at(i) : upper)),
  };
}

function fromNew(table: LifeTable): LifeTable | null {
  if (table.entryHours.every((hours) => hours === 0)) return null;
  return { ...table, entryHours: new Float64Array(table.rows) };
}

function flownOn(table: LifeTable, hoursFlown: Float64Array): LifeTable | null {
  const longer = (i: number) =>
    table.upperHours[i] === Number.POSITIVE_INFINITY && hoursFlown[i]! > table.lowerHours[i]!;
  if (!table.lowerHours.some((_, i) => longer(i))) return null;
  return { ...table, lowerHours: table.lowerHours.map((lower, i) => (longer(i) ? hoursFlown[i]! : lower)) };
}
