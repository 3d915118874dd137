/** Where odd readings stand in the exports. */
import type { ReadExports } from "../records/exports.ts";
import type { OddLine, UnplacedOdd, WearChecks } from "./wear-checks.ts";

/**
 * Finds the rows of odd readings, of however many groups, in one pass over the wear export: the row of its component with
 * its wear, on a day of its life's readings; of several the one nearest to its hours.
 *
 * @returns file:line of each, in order; "not found" where only sums of the readings were given
 */
export function sourcesOf({ wear, files }: ReadExports, odd: readonly UnplacedOdd[]): string[] {
  const wanted = new Map<number, number[]>();
  for (const [index, { component }] of odd.entries()) {
    const own = wanted.get(component);
    if (own) own.push(index);
    else wanted.set(component, [index]);
  }
  const best = new Int32Array(odd.length).fill(-1);
  for (let row = 0; row < (wear?.rows ?? 0); row++) {
    for (const index of wanted.get(wear!.component[row]!) ?? []) {
      const { wearMm, hours, days } = odd[index]!;
      if (wear!.wearMm[row] !== wearMm || !days.includes(wear!.day[row]!)) continue;
      const off = Math.abs(wear!.hours[row]! - hours);
      const known = best[index]!;
      if (known < 0 || off < Math.abs(wear!.hours[known]! - hours)) best[index] = row;
    }
  }
  return Array.from(best, (row) =>
    row < 0 ? "not found" : `${files[wear!.file[row]!]!.file}:${wear!.line[row]}`,
  );
}

/** The checks of groups, in order, their odd readings with their places. */
export function withSources(exports: ReadExports, checks: readonly WearChecks<UnplacedOdd>[]): WearChecks[] {
  const sources = sourcesOf(
    exports,
    checks.flatMap(({ measurement }) => measurement.odd),
  );
  let at = 0;
  return checks.map((one) => {
    const odd = one.measurement.odd.map(
      ({ component, days, ...reading }): OddLine => ({ ...reading, source: sources[at++]! }),
    );
    return { ...one, measurement: { ...one.measurement, odd } };
  });
}
