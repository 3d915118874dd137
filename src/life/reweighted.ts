/** The likelihood of a life table under other counts of its rows: what a bootstrap asks for hundreds of times. */
import type { LifeTable } from "../records/life-table.ts";
import type { WeibullLikelihood } from "./weibull-likelihood.ts";

/** Numbers places as they come up. */
class Places {
  readonly hours: number[] = [];
  private readonly known = new Map<number, number>();
  /** −1 for hour 0, which has no cumulative hazard. */
  of(hours: number): number {
    if (hours === 0) return -1;
    const place = this.known.get(hours) ?? this.hours.push(hours) - 1;
    this.known.set(hours, place);
    return place;
  }
}

/**
 * Finds and takes the logarithm of every distinct time once; each call then only sums counts. Rows that count nothing keep
 * their terms, at a weight of 0.
 *
 * @param centre  log hours at which alpha is the log cumulative hazard, the same under all counts
 */
export function reweightedLikelihood(
  table: LifeTable,
  centre: number,
): (count: Float64Array) => WeibullLikelihood {
  const { rows, entryHours, lowerHours, upperHours } = table;
  const places = new Places();
  const entry = Int32Array.from({ length: rows }, (_, i) => places.of(entryHours[i]!));
  const lower = Int32Array.from({ length: rows }, (_, i) => places.of(lowerHours[i]!));
  const all = Array.from({ length: rows }, (_, i) => i);
  const exactRows = all.filter((i) => lowerHours[i] === upperHours[i]);
  const intervalRows = all.filter(
    (i) => upperHours[i]! < Number.POSITIVE_INFINITY && lowerHours[i] !== upperHours[i],
  );
  const logOf = (hours: number) => (hours > 0 ? Math.log(hours) - centre : Number.NEGATIVE_INFINITY);
  const hazardLog = Float64Array.from(places.hours, logOf);
  const intervalLowLog = Float64Array.from(intervalRows, (i) => logOf(lowerHours[i]!));
  const intervalHighLog = Float64Array.from(intervalRows, (i) => logOf(upperHours[i]!));
  return (count) => {
    const hazardWeight = new Float64Array(hazardLog.length);
    let lives = 0;
    let lateEntry = false;
    for (let i = 0; i < rows; i++) {
      const lived = count[i]!;
      lives += lived;
      if (lived > 0 && entry[i]! >= 0) lateEntry = true;
      if (entry[i]! >= 0) hazardWeight[entry[i]!]! += lived;
      if (lower[i]! >= 0) hazardWeight[lower[i]!]! -= lived;
    }
    const exact = exactRows.filter((i) => count[i]! > 0);
    return {
      centre,
      lives,
      exact: exact.reduce((sum, i) => sum + count[i]!, 0),
      intervals: intervalRows.reduce((sum, i) => sum + count[i]!, 0),
      distinctExactTimes: new Set(exact.map((i) => lowerHours[i])).size,
      lateEntry,
      logSpread: 0,
      sumLogExact: exact.reduce((sum, i) => sum + count[i]! * logOf(lowerHours[i]!), 0),
      hazardLog,
      hazardWeight,
      intervalLowLog,
      intervalHighLog,
      intervalWeight: Float64Array.from(intervalRows, (i) => count[i]!),
    };
  };
}
