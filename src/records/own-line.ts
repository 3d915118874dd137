/**
 * Whether a component removed below the limit would have reached it soon: its own straight line, with the upper 80 %
 * point of what would have been read.
 */
import { standardNormalQuantile } from "../math/distributions.ts";

/** One-sided: 80 % of readings lie below. */
const UPPER_80 = standardNormalQuantile(0.8);

/** What the part's other components say, for one whose own readings are too few. */
export interface WearScatter {
  /** Scatter of readings about a component's own line, mm; 0 where no component has three readings. */
  readonly scatterMm: number;
  /** Rate that 80 % of the components stay below, mm per hour; null where there is no rate to take it from. */
  readonly upperRateMmPerHour: number | null;
}

/**
 * Upper 80 % point of the reading at `hours`, by the component's own line.
 * Three readings or more: least squares. Two: the line through them. One: the reading, then on at the part's upper rate.
 * null without a reading.
 */
export function upperReadingAt(
  readingHours: readonly number[],
  readingWearMm: readonly number[],
  hours: number,
  scatter: WearScatter,
): number | null {
  const n = readingHours.length;
  if (n === 0) return null;
  const lastHours = readingHours[n - 1]!;
  const lastWearMm = readingWearMm[n - 1]!;
  if (n === 1 || lastHours === readingHours[0]) {
    if (scatter.upperRateMmPerHour === null) return null;
    return lastWearMm + (hours - lastHours) * scatter.upperRateMmPerHour + UPPER_80 * scatter.scatterMm;
  }
  const line = straightLine(readingHours, readingWearMm);
  const spread = Math.sqrt(1 + 1 / n + (hours - line.meanHours) ** 2 / line.sumSquaredHours);
  return line.meanWearMm + line.slope * (hours - line.meanHours) + UPPER_80 * scatter.scatterMm * spread;
}

/** Scatter and upper rate over the components of a part. @param lives readings of each life */
export function wearScatter(
  lives: Iterable<{ readonly readingHours: readonly number[]; readonly readingWearMm: readonly number[] }>,
): WearScatter {
  let residualSquares = 0;
  let degreesOfFreedom = 0;
  const rates: number[] = [];
  for (const { readingHours, readingWearMm } of lives) {
    const n = readingHours.length;
    if (n === 0) continue;
    if (readingHours[n - 1]! > 0) rates.push(readingWearMm[n - 1]! / readingHours[n - 1]!);
    if (n < 3 || readingHours[n - 1] === readingHours[0]) continue;
    const line = straightLine(readingHours, readingWearMm);
    for (let i = 0; i < n; i++) {
      residualSquares +=
        (readingWearMm[i]! - line.meanWearMm - line.slope * (readingHours[i]! - line.meanHours)) ** 2;
    }
    degreesOfFreedom += n - 2;
  }
  rates.sort((a, b) => a - b);
  return {
    scatterMm: degreesOfFreedom > 0 ? Math.sqrt(residualSquares / degreesOfFreedom) : 0,
    upperRateMmPerHour:
      rates.length > 0 ? rates[Math.min(rates.length - 1, Math.ceil(0.8 * rates.length) - 1)]! : null,
  };
}

function straightLine(hours: readonly number[], wearMm: readonly number[]) {
  const n = hours.length;
  let sumHours = 0;
  let sumWearMm = 0;
  for (let i = 0; i < n; i++) {
    sumHours += hours[i]!;
    sumWearMm += wearMm[i]!;
  }
  const meanHours = sumHours / n;
  const meanWearMm = sumWearMm / n;
  let sumSquaredHours = 0;
  let sumProducts = 0;
  for (let i = 0; i < n; i++) {
    sumSquaredHours += (hours[i]! - meanHours) ** 2;
    sumProducts += (hours[i]! - meanHours) * (wearMm[i]! - meanWearMm);
  }
  return { meanHours, meanWearMm, sumSquaredHours, slope: sumProducts / sumSquaredHours };
}
