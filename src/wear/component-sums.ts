/**
 * What the wear models keep of the readings: per component the count, the means and the centred sums of squares and
 * products, gathered in one pass. A million readings become six numbers a component, and every later fit is fast.
 */
import type { GroupReadings } from "../records/event-table.ts";
import type { WearTable } from "../records/wear-table.ts";

/** One entry per component with at least one reading, in the order of the component numbers. */
export interface ComponentSums {
  readonly components: number;
  readonly readings: number;
  /** The component's number in the wear table. */
  readonly component: Int32Array;
  readonly count: Float64Array;
  readonly meanHours: Float64Array;
  readonly meanWearMm: Float64Array;
  /** Σ(h − mean)², hours². */
  readonly hoursSquared: Float64Array;
  /** Σ(h − mean)(w − mean), hours·mm. */
  readonly hoursWear: Float64Array;
  /** Σ(w − mean)², mm². */
  readonly wearSquared: Float64Array;
}

/**
 * Component sums of a wear table, by the updating formulas that keep their digits when means are large.
 *
 * Source: Welford (1962), Technometrics 4, 419-420, extended to products.
 */
export function componentSums(table: WearTable): ComponentSums {
  const size = table.components;
  const count = new Float64Array(size);
  const meanHours = new Float64Array(size);
  const meanWearMm = new Float64Array(size);
  const hoursSquared = new Float64Array(size);
  const hoursWear = new Float64Array(size);
  const wearSquared = new Float64Array(size);
  for (let row = 0; row < table.rows; row++) {
    const i = table.component[row]!;
    const n = count[i]! + 1;
    const fromHours = table.hours[row]! - meanHours[i]!;
    const fromWear = table.wearMm[row]! - meanWearMm[i]!;
    count[i] = n;
    meanHours[i]! += fromHours / n;
    meanWearMm[i]! += fromWear / n;
    const wearLeft = table.wearMm[row]! - meanWearMm[i]!;
    hoursSquared[i]! += fromHours * (table.hours[row]! - meanHours[i]!);
    hoursWear[i]! += fromHours * wearLeft;
    wearSquared[i]! += fromWear * wearLeft;
  }
  const kept: number[] = [];
  for (let i = 0; i < size; i++) if (count[i]! > 0) kept.push(i);
  const pick = (column: Float64Array) => Float64Array.from(kept, (i) => column[i]!);
  return {
    components: kept.length,
    readings: table.rows,
    component: Int32Array.from(kept),
    count: pick(count),
    meanHours: pick(meanHours),
    meanWearMm: pick(meanWearMm),
    hoursSquared: pick(hoursSquared),
    hoursWear: pick(hoursWear),
    wearSquared: pick(wearSquared),
  };
}

/** Sums of a group: from its readings, or as a table gave them. */
export function groupSums({ table, lives }: Pick<GroupReadings, "table" | "lives">): ComponentSums {
  const summed = lives.flatMap((life) => life.summed ?? []);
  if (summed.length === 0) return componentSums(table);
  if (summed.length < lives.length)
    throw new Error("some lives of a group have readings and others only sums");
  const column = (pick: (sums: (typeof summed)[number]) => number) => Float64Array.from(summed, pick);
  return {
    components: summed.length,
    readings: summed.reduce((sum, { count }) => sum + count, 0),
    component: Int32Array.from(summed, (_, i) => i),
    count: column(({ count }) => count),
    meanHours: column(({ meanHours }) => meanHours),
    meanWearMm: column(({ meanWearMm }) => meanWearMm),
    hoursSquared: column(({ hoursSquared }) => hoursSquared),
    hoursWear: column(({ hoursWear }) => hoursWear),
    wearSquared: column(({ wearSquared }) => wearSquared),
  };
}

/** Least-squares slope of each component, mm per hour; null where its hours do not differ. */
export function componentSlopes(sums: ComponentSums): (number | null)[] {
  return Array.from(sums.component, (_, i) =>
    sums.hoursSquared[i]! > 0 ? sums.hoursWear[i]! / sums.hoursSquared[i]! : null,
  );
}

/** The sums of some of the components (their places in the sums), in the order given. */
export function selectComponents(sums: ComponentSums, kept: readonly number[]): ComponentSums {
  const pick = (column: Float64Array) => Float64Array.from(kept, (i) => column[i]!);
  const count = pick(sums.count);
  return {
    components: kept.length,
    readings: count.reduce((sum, n) => sum + n, 0),
    component: Int32Array.from(kept, (i) => sums.component[i]!),
    count,
    meanHours: pick(sums.meanHours),
    meanWearMm: pick(sums.meanWearMm),
    hoursSquared: pick(sums.hoursSquared),
    hoursWear: pick(sums.hoursWear),
    wearSquared: pick(sums.wearSquared),
  };
}
