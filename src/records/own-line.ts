/**
 * Whether a component removed below the limit would have reached it soon: its own straight line, with the upper 80 %
 * point of what would have been read.
 */
import { median } from "simple-statistics";
import { standardNormalQuantile } from "../math/distributions.ts";

/** One-sided: 80 % of readings lie below. */
const UPPER_80 = standardNormalQuantile(0.8);

/**
 * Upper 80 % point of the reading at `hours`, by the component's own line.
 * Three readings or more: least squares. Two: the line through them. One: the line from no wear at no hours through it.
 * null without a reading.
 *
 * @param scatterMm  scatter of readings about a component's own line
 */
export function upperReadingAt(
  readingHours: readonly number[],
  readingWearMm: readonly number[],
  hours: number,
  scatterMm: number,
): number | null {
  const n = readingHours.length;
  if (n === 0) return null;
  const lastHours = readingHours[n - 1]!;
  if (n === 1 || lastHours === readingHours[0]) {
    if (!(lastHours > 0)) return null;
    const ahead = hours / lastHours;
    return readingWearMm[n - 1]! * ahead + UPPER_80 * scatterMm * Math.hypot(1, ahead);
  }
  const line = straightLine(readingHours, readingWearMm);
  const spread = Math.sqrt(1 + 1 / n + (hours - line.meanHours) ** 2 / line.sumSquaredHours);
  return line.meanWearMm + line.slope * (hours - line.meanHours) + UPPER_80 * scatterMm * spread;
}

/**
 * Scatter of readings about a component's own line, over the lives of a part; 0 where no life has three readings.
 * Robust, so that one slip of the pen does not make every removal look early: 1.4826 times the median of the absolute
 * residuals, each divided by what the line left it.
 */
export class WearScatter {
  readonly #standardised: number[] = [];

  /** Adds the looks of a life. */
  add(looks: readonly { readonly hours: number; readonly wearMm: number | null }[]): void {
    const readingHours: number[] = [];
    const readingWearMm: number[] = [];
    for (const { hours, wearMm } of looks) {
      if (wearMm === null) continue;
      readingHours.push(hours);
      readingWearMm.push(wearMm);
    }
    const n = readingHours.length;
    if (n < 3 || readingHours[n - 1] === readingHours[0]) return;
    const line = straightLine(readingHours, readingWearMm);
    for (let i = 0; i < n; i++) {
      const from = readingHours[i]! - line.meanHours;
      const left = 1 - 1 / n - (from * from) / line.sumSquaredHours;
      // The ends of a line through few points leave almost no residual: nothing to tell scatter by.
      if (left < 0.1) continue;
      const residual = readingWearMm[i]! - line.meanWearMm - line.slope * from;
      this.#standardised.push(Math.abs(residual) / Math.sqrt(left));
    }
  }

  scatterMm(): number {
    return this.#standardised.length === 0 ? 0 : MAD_TO_SD * median(this.#standardised);
  }
}

/** Standard deviation of a normal distribution over its median absolute deviation. */
const MAD_TO_SD = 1.4826;

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
