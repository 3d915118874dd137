/** Wear that falls by more than scatter, and readings that look as if in another unit. */

import { LOOK } from "../records/exports.ts";
import { SAME_HOURS } from "../records/same-hours.ts";
import { INCHES, LEAST_COMPARED, THOUSAND, within } from "../records/unit-mix.ts";
import { GrowInt32 } from "./growable.ts";
import { breaks, placeOf, type RowChecks } from "./remarks.ts";

/** A single reading this many times the limit is no reading in that unit. */
const TIMES_LIMIT_ALONE = 10;
/** A fall counts beyond this many standard deviations of the difference of two readings. */
const DEVIATIONS = 4;
/** And beyond this share of the limit, whatever the scatter. */
const LEAST_FALL = 0.05;
/** Scatter as a share of the limit where fewer than MINIMUM_TRIPLES can tell it. */
const ASSUMED_SCATTER = 0.03;
const MINIMUM_TRIPLES = 30;
/** As many tell the scatter as well as all do. */
const MAXIMUM_TRIPLES = 100_000;

/** @param doubtful  rows whose hours are odd: left out of comparisons */
export function checkWear(checks: RowChecks, doubtful: Uint8Array): void {
  const { wear, components } = checks.exports;
  if (wear === null) return;
  const runs = new Runs();
  for (let component = 0; component < components.count; component++)
    runsOf(checks, component, doubtful, (run) => runs.add(checkUnits(checks, run)));
  const scatterMm = scatterOf(checks, runs);
  for (let at = 0; at < runs.count; at++)
    if (mayFall(checks, runs, at, scatterMm)) checkFalls(checks, runs.run(at), scatterMm);
}

/** Runs of rows one behind the other, since there are more than components. */
class Runs {
  readonly rows = new GrowInt32();
  readonly #ends = new GrowInt32();

  /** Adds a run that has any rows. */
  add(run: readonly number[]): void {
    if (run.length === 0) return;
    for (const row of run) this.rows.push(row);
    this.#ends.push(this.rows.length);
  }

  get count(): number {
    return this.#ends.length;
  }

  /** Where a run begins among the rows; the one after it begins where it ends. */
  start(at: number): number {
    return at === 0 ? 0 : this.#ends.get(at - 1);
  }

  /** A run by itself. */
  run(at: number): number[] {
    return [...this.rows.view().subarray(this.start(at), this.start(at + 1))];
  }
}

const limitOf = (checks: RowChecks, row: number): number => {
  const { wear, components } = checks.exports;
  return checks.fleet.parts[components.part[wear!.component[row]!]!]!.replaceAtMm;
};

/** Takes the numeric readings of a component, cut where it was removed or fitted between, or its hours fall. */
function runsOf(
  checks: RowChecks,
  component: number,
  doubtful: Uint8Array,
  take: (run: readonly number[]) => void,
): void {
  const wear = checks.exports.wear!;
  const { start, order } = checks.looks!;
  let run: number[] = [];
  for (let at = start[component]!; at < start[component + 1]!; at++) {
    const row = order[at]!;
    if (wear.look[row] !== LOOK.number || doubtful[row] === 1) continue;
    const last = run.at(-1);
    const apart =
      last !== undefined &&
      (wear.hours[row]! < wear.hours[last]! - SAME_HOURS ||
        breaks(checks, component, wear.day[last]!, wear.day[row]! - 1));
    if (apart) {
      take(run);
      run = [];
    }
    run.push(row);
  }
  if (run.length > 0) take(run);
}

/** Remarks on readings in another unit; returns the run without them. */
function checkUnits(checks: RowChecks, run: readonly number[]): readonly number[] {
  if (run.every((_, at) => isPlain(checks, run, at))) return run;
  const { wearMm } = checks.exports.wear!;
  return run.filter((row, at) => {
    if (isPlain(checks, run, at)) return true;
    const near = neighbours(run, at);
    const limit = limitOf(checks, row);
    const factor = oddFactor(
      wearMm[row]!,
      near.map((other) => wearMm[other]!),
      limit,
      at === 0,
    );
    if (factor === null) return true;
    const beside = near.map((other) => `${mm(wearMm[other]!)} (${placeOf(checks.exports, "wear", other)})`);
    checks.remark({
      code: "W-UNIT-MIX",
      kind: "wear",
      row,
      field: "wear",
      expected:
        beside.length > 0
          ? `a reading near ${beside.join(" and ")}`
          : `a reading near the limit of ${mm(limit)} or below`,
      found: mm(wearMm[row]!),
      hint: (fate) =>
        `about ${factor} ${beside.length > 0 ? "its neighbours" : "the limit"}: another unit? ${fate}`,
    });
    return false;
  });
}

/** Within sixteen times of the reading beside it, which nearly all are: nothing to look into. */
function isPlain(checks: RowChecks, run: readonly number[], at: number): boolean {
  const beside = run[at === 0 ? 1 : at - 1];
  if (beside === undefined) return false;
  const { wearMm } = checks.exports.wear!;
  const value = wearMm[run[at]!]!;
  const other = wearMm[beside]!;
  return value < INCHES.low * other && other < INCHES.low * value;
}

const mm = (value: number): string => `${Number(value.toPrecision(4))} mm`;

/** The reading before and the one after; at an end of the run the two nearest. */
function neighbours(run: readonly number[], at: number): readonly number[] {
  const near = at === 0 ? [1, 2] : at === run.length - 1 ? [at - 1, at - 2] : [at - 1, at + 1];
  return near.map((other) => run[other]).filter((row) => row !== undefined);
}

/** In words, how many times its neighbours a reading is, where that tells of another unit; else null. */
function oddFactor(value: number, near: readonly number[], limit: number, isFirst: boolean): string | null {
  if (near.length < 2)
    return value >= TIMES_LIMIT_ALONE * limit ? `${Math.round(value / limit)} times` : null;
  const up = near.map((other) => value / Math.max(other, LEAST_COMPARED * limit));
  if (value > limit / 2 && within(up, INCHES)) return "25 to 40 times";
  if (value > limit && within(up, THOUSAND)) return "1000 times";
  // Wear grows from nothing, so a small first reading is no wonder.
  if (isFirst || value <= 0 || near.some((other) => other < limit / 5)) return null;
  const down = near.map((other) => other / value);
  if (within(down, INCHES)) return "a 25th to a 40th of";
  return within(down, THOUSAND) ? "a 1000th of" : null;
}

/**
 * Standard deviation of one reading, robustly: how far the middle of three readings of a run lies from the line through
 * the outer two, whose variance is s²(1 + w² + (1−w)²); 1.4826 times the median absolute deviation.
 */
function scatterOf(checks: RowChecks, runs: Runs): number {
  const { hours, wearMm } = checks.exports.wear!;
  const rows = runs.rows.view();
  const deviations: number[] = [];
  for (let run = 0; run < runs.count && deviations.length < MAXIMUM_TRIPLES; run++) {
    const end = runs.start(run + 1);
    for (let at = runs.start(run) + 1; at + 1 < end && deviations.length < MAXIMUM_TRIPLES; at++) {
      const a = rows[at - 1]!;
      const b = rows[at]!;
      const c = rows[at + 1]!;
      const span = hours[c]! - hours[a]!;
      if (span <= 0) continue;
      const w = (hours[b]! - hours[a]!) / span;
      const line = (1 - w) * wearMm[a]! + w * wearMm[c]!;
      deviations.push(Math.abs(wearMm[b]! - line) / Math.sqrt(1 + w * w + (1 - w) * (1 - w)));
    }
  }
  if (deviations.length < MINIMUM_TRIPLES) return ASSUMED_SCATTER * smallestLimit(checks);
  return 1.4826 * Float64Array.from(deviations).sort()[Math.floor(deviations.length / 2)]!;
}

const smallestLimit = (checks: RowChecks): number =>
  Math.min(...checks.fleet.parts.map((part) => part.replaceAtMm));

/** Less than this below a reading is scatter. */
const leastFall = (limitMm: number, scatterMm: number): number =>
  Math.max(DEVIATIONS * Math.SQRT2 * scatterMm, LEAST_FALL * limitMm);

/** Whether any reading of a run lies that far below the one before it; in most runs none does. */
function mayFall(checks: RowChecks, runs: Runs, run: number, scatterMm: number): boolean {
  const { wearMm } = checks.exports.wear!;
  const rows = runs.rows.view();
  const first = runs.start(run);
  const least = leastFall(limitOf(checks, rows[first]!), scatterMm);
  for (let at = first + 1; at < runs.start(run + 1); at++)
    if (wearMm[rows[at]!]! < wearMm[rows[at - 1]!]! - least) return true;
  return false;
}

/** Remarks on falls. Of a low reading between two high ones, and a high one between two low, the odd one is named. */
function checkFalls(checks: RowChecks, run: readonly number[], scatterMm: number): void {
  const { wearMm } = checks.exports.wear!;
  const trusted: number[] = [];
  for (let at = 0; at < run.length; at++) {
    const row = run[at]!;
    const least = leastFall(limitOf(checks, row), scatterMm);
    const falls = (from: number, to: number): boolean => wearMm[to]! < wearMm[from]! - least;
    const previous = trusted.at(-1);
    if (previous === undefined || !falls(previous, row)) {
      trusted.push(row);
      continue;
    }
    const before = trusted.at(-2);
    const comesBack = run[at + 1] !== undefined && !falls(previous, run[at + 1]!);
    const wasHigh = !comesBack && before !== undefined && !falls(before, row);
    tellFall(checks, previous, row, wasHigh, scatterMm);
    if (wasHigh) trusted.pop();
    if (!comesBack) trusted.push(row);
  }
}

function tellFall(checks: RowChecks, from: number, to: number, wasHigh: boolean, scatterMm: number): void {
  const { wearMm, hours } = checks.exports.wear!;
  const odd = wasHigh ? from : to;
  const other = wasHigh ? to : from;
  const place = `${mm(wearMm[other]!)} at ${hours[other]} h (${placeOf(checks.exports, "wear", other)})`;
  checks.remark({
    code: "W-WEAR-FALLS",
    kind: "wear",
    row: odd,
    field: "wear",
    expected: wasHigh ? `no more wear than is read later, ${place}` : `no less wear than before, ${place}`,
    found: `${mm(wearMm[odd]!)} at ${hours[odd]} h`,
    hint: (fate) =>
      `one reading scatters by about ${mm(scatterMm)}; a replacement that isn't recorded? ${fate}`,
  });
}
