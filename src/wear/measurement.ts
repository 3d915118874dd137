/** What the readings say about the measuring: scatter of repeats, resolution of the gauge, heaping below the limit, odd readings. */
import { binomialCumulative } from "../math/distributions.ts";
import type { WearTable } from "../records/wear-table.ts";
import type { ComponentSums } from "./component-sums.ts";

export interface RepeatScatter {
  /** Pooled standard deviation of readings of one component at the same hours; null without repeats. */
  readonly sdMm: number | null;
  readonly degreesOfFreedom: number;
}

/** Scatter of repeated readings: one component, hours within `withinHours` of each other. */
export function repeatScatter(table: WearTable, withinHours = 0.5): RepeatScatter {
  const order = Array.from({ length: table.rows }, (_, row) => row).sort(
    (i, j) => table.component[i]! - table.component[j]! || table.hours[i]! - table.hours[j]! || i - j,
  );
  let squares = 0;
  let degreesOfFreedom = 0;
  let from = 0;
  for (let k = 1; k <= order.length; k++) {
    const first = order[from]!;
    const row = order[k];
    const same =
      row !== undefined &&
      table.component[row] === table.component[first] &&
      table.hours[row]! - table.hours[first]! <= withinHours;
    if (same) continue;
    if (k - from > 1) {
      const values = order.slice(from, k).map((at) => table.wearMm[at]!);
      const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
      squares += values.reduce((sum, value) => sum + (value - mean) ** 2, 0);
      degreesOfFreedom += values.length - 1;
    }
    from = k;
  }
  return { sdMm: degreesOfFreedom > 0 ? Math.sqrt(squares / degreesOfFreedom) : null, degreesOfFreedom };
}

/** Steps that gauges have, in millimetres; the last three are 5, 1 and 0.5 thousandths of an inch. */
const STEPS_MM = [0.5, 0.25, 0.2, 0.1, 0.05, 0.025, 0.02, 0.01, 0.005, 0.002, 0.001, 0.127, 0.0254, 0.0127];

/** Fewest different readings, in steps. */
const VARIETY = 3;

/** The largest step of which 99 of 100 readings are multiples, or null; needs 20 readings with some variety. */
export function gaugeResolution(table: WearTable): number | null {
  if (table.rows < 20) return null;
  const fits = STEPS_MM.filter((step) => {
    let multiples = 0;
    const seen = new Set<number>();
    for (let row = 0; row < table.rows; row++) {
      const count = table.wearMm[row]! / step;
      // Recorded to 10 nm at best, in whatever unit.
      if (Math.abs(count - Math.round(count)) * step < 1e-5 + 1e-9) multiples++;
      if (seen.size < VARIETY) seen.add(Math.round(count));
    }
    return multiples >= 0.99 * table.rows && seen.size >= VARIETY;
  });
  return fits.length === 0 ? null : Math.max(...fits);
}

export interface Heaping {
  readonly windowMm: number;
  /** Readings in the window before the one below the limit, just below the limit, and from the limit up. */
  readonly before: number;
  readonly justBelow: number;
  readonly from: number;
  /** Chance of so many just below where the density runs straight through three windows (one-sided). */
  readonly p: number;
}

/**
 * Whether readings heap just below the limit: three windows of equal width, of which the middle one holds a third of
 * their readings where nothing is amiss.
 *
 * @param windowMm __Default value:__ 4 % of the limit, as a whole number of gauge steps
 */
export function heapingBelow(table: WearTable, limitMm: number, windowMm?: number): Heaping {
  const step = gaugeResolution(table);
  const wanted = windowMm ?? 0.04 * limitMm;
  const width = step === null ? wanted : step * Math.max(1, Math.round(wanted / step));
  const counts: [number, number, number] = [0, 0, 0];
  for (let row = 0; row < table.rows; row++) {
    // A reading of exactly the limit is over it, whatever the last bit of the arithmetic says.
    const place = Math.floor((table.wearMm[row]! - limitMm) / width + 1e-9) + 2;
    if (place >= 0 && place <= 2) counts[place as 0 | 1 | 2]++;
  }
  const [before, justBelow, from] = counts;
  const n = before + justBelow + from;
  const p = justBelow === 0 ? 1 : 1 - binomialCumulative(justBelow - 1, n, 1 / 3);
  return { windowMm: width, before, justBelow, from, p };
}

export interface OddReading {
  /** Row of the wear table. */
  readonly row: number;
  /** Distance from the line of the component's other readings, in its standard deviations. */
  readonly standardised: number;
  /** How the component's own rate would change without it, mm per 1000 h. */
  readonly influenceMmPer1000Hours: number;
}

/** Readings far off the line of their component's other readings (three readings or more); flagged, never dropped. */
export function oddReadings(
  table: WearTable,
  sums: ComponentSums,
  measurementSdMm: number,
  threshold = 4,
): OddReading[] {
  const place = new Map(Array.from(sums.component, (component, i) => [component, i]));
  const odd: OddReading[] = [];
  for (let row = 0; row < table.rows; row++) {
    const i = place.get(table.component[row]!)!;
    const hh = sums.hoursSquared[i]!;
    if (sums.count[i]! < 3 || !(hh > 0)) continue;
    const from = table.hours[row]! - sums.meanHours[i]!;
    const leverage = 1 / sums.count[i]! + (from * from) / hh;
    if (leverage > 1 - 1e-9) continue;
    const residual = table.wearMm[row]! - sums.meanWearMm[i]! - (sums.hoursWear[i]! / hh) * from;
    const standardised = residual / (measurementSdMm * Math.sqrt(1 - leverage));
    if (Math.abs(standardised) < threshold) continue;
    const influenceMmPer1000Hours = (-1000 * from * residual) / (hh * (1 - leverage));
    odd.push({ row, standardised, influenceMmPer1000Hours });
  }
  return odd;
}
