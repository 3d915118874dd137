/**
 * What the wear models keep of the readings: per component the count, the means and the centred sums of squares and
 * products, gathered in one pass. A million readings become six numbers a component, and every later fit is fast.
 */
import type { GroupReadings } from "../records/event-table.ts";
import type { WearTable } from "../records/wear-table.ts";

/** By component. */
interface SumColumns {
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

/** One entry per component with at least one reading, in the order of the component numbers. */
export interface ComponentSums extends SumColumns {
  readonly components: number;
  readonly readings: number;
  /** The component's number in the wear table. */
  readonly component: Int32Array;
}

const emptyColumns = (size: number): SumColumns => ({
  count: new Float64Array(size),
  meanHours: new Float64Array(size),
  meanWearMm: new Float64Array(size),
  hoursSquared: new Float64Array(size),
  hoursWear: new Float64Array(size),
  wearSquared: new Float64Array(size),
});

/**
 * One more reading, by the updating formulas that keep their digits when means are large.
 *
 * Source: Welford (1962), Technometrics 4, 419-420, extended to products.
 */
function addReading(to: SumColumns, i: number, hours: number, wearMm: number): void {
  const n = to.count[i]! + 1;
  const fromHours = hours - to.meanHours[i]!;
  const fromWear = wearMm - to.meanWearMm[i]!;
  to.count[i] = n;
  to.meanHours[i]! += fromHours / n;
  to.meanWearMm[i]! += fromWear / n;
  const wearLeft = wearMm - to.meanWearMm[i]!;
  to.hoursSquared[i]! += fromHours * (hours - to.meanHours[i]!);
  to.hoursWear[i]! += fromHours * wearLeft;
  to.wearSquared[i]! += fromWear * wearLeft;
}

/** Component sums of a wear table. */
export function componentSums(table: WearTable): ComponentSums {
  const all = emptyColumns(table.components);
  for (let row = 0; row < table.rows; row++)
    addReading(all, table.component[row]!, table.hours[row]!, table.wearMm[row]!);
  const kept: number[] = [];
  for (let i = 0; i < table.components; i++) if (all.count[i]! > 0) kept.push(i);
  return {
    components: kept.length,
    readings: table.rows,
    component: Int32Array.from(kept),
    ...pick(all, kept),
  };
}

/** Readings of one life in the order in which they were made. */
interface LifeReadings {
  readonly readingHours: ArrayLike<number>;
  readonly readingWearMm: ArrayLike<number>;
}

/** One entry for each reading but the first of each life, in order: the sums of those before it. */
export function sumsBefore(lives: readonly LifeReadings[]): ComponentSums {
  const entries = lives.reduce((sum, life) => sum + Math.max(0, life.readingHours.length - 1), 0);
  const to = emptyColumns(entries);
  let readings = 0;
  let i = 0;
  for (const { readingHours, readingWearMm } of lives) {
    for (let k = 1; k < readingHours.length; k++, i++) {
      if (k > 1) for (const column of Object.values(to)) column[i] = column[i - 1];
      addReading(to, i, readingHours[k - 1]!, readingWearMm[k - 1]!);
      readings += k;
    }
  }
  return {
    components: entries,
    readings,
    component: Int32Array.from({ length: entries }, (_, k) => k),
    ...to,
  };
}

/** The columns of some components. */
function pick(all: SumColumns, kept: readonly number[]): SumColumns {
  const column = (values: Float64Array) => Float64Array.from(kept, (i) => values[i]!);
  return {
    count: column(all.count),
    meanHours: column(all.meanHours),
    meanWearMm: column(all.meanWearMm),
    hoursSquared: column(all.hoursSquared),
    hoursWear: column(all.hoursWear),
    wearSquared: column(all.wearSquared),
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
  const columns = pick(sums, kept);
  return {
    components: kept.length,
    readings: columns.count.reduce((sum, n) => sum + n, 0),
    component: Int32Array.from(kept, (i) => sums.component[i]!),
    ...columns,
  };
}
