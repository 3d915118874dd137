/**
 * Cross products of the joint model by component. A component flew in few of the cells, so only its own columns are kept:
 * those of component i are places from[i] to from[i + 1] of the column arrays, and their products a square from square[i] on.
 */
import type { Cell, JointTable } from "./joint-table.ts";

export interface JointData {
  /** Fixed effects: an intercept per standard, then a rate per cell (mm per 1000 h). */
  readonly columns: number;
  readonly readings: number;
  readonly components: number;
  readonly aircraft: number;
  readonly aircraftOf: Int32Array;
  readonly from: Int32Array;
  readonly square: Int32Array;
  /** Number of each column, its sum, its product with wear and, squares, with each other. */
  readonly column: Int32Array;
  readonly x: Float64Array;
  readonly xy: Float64Array;
  readonly xx: Float64Array;
  /** By component: readings, Σ wear and Σ wear². */
  readonly count: Float64Array;
  readonly y: Float64Array;
  readonly yy: Float64Array;
  /** Hours as they weigh in the slopes: Σ h, Σ h², Σ h·wear by component, and Σ h·x by column. */
  readonly h: Float64Array;
  readonly hh: Float64Array;
  readonly hy: Float64Array;
  readonly xh: Float64Array;
}

/** The products with an hour weighing the same in every cell. */
export function jointData(table: JointTable, cells: readonly Cell[]): JointData {
  const { order, ends, aircraftOf, aircraft } = byComponent(table);
  const rows = rowColumns(table, cells);
  const column: number[] = [];
  const x: number[] = [];
  const xy: number[] = [];
  const xx: number[] = [];
  const components = ends.length;
  const from = new Int32Array(components + 1);
  const square = new Int32Array(components + 1);
  const [count, y, yy] = [0, 0, 0].map(() => new Float64Array(components));
  for (let i = 0; i < components; i++) {
    const own = order.subarray(i === 0 ? 0 : ends[i - 1]!, ends[i]!);
    const sums = productsOf(table, rows, own);
    column.push(...sums.used);
    x.push(...sums.x);
    xy.push(...sums.xy);
    xx.push(...sums.xx);
    from[i + 1] = column.length;
    square[i + 1] = xx.length;
    count![i] = own.length;
    y![i] = sums.y;
    yy![i] = sums.yy;
  }
  return weighted(
    {
      columns: table.standards.length + cells.length,
      readings: table.rows,
      ...{ components, aircraft, aircraftOf, from, square },
      column: Int32Array.from(column),
      x: Float64Array.from(x),
      xy: Float64Array.from(xy),
      xx: Float64Array.from(xx),
      ...{ count: count!, y: y!, yy: yy! },
    },
    Float64Array.from({ length: table.standards.length + cells.length }, (_, k) =>
      k < table.standards.length ? 0 : 1,
    ),
  );
}

/**
 * The same with hours that weigh differently in the slopes by component and by aircraft.
 *
 * @param relative  what an hour weighs, by column; 0 for intercepts
 */
export function weighted(data: Omit<JointData, "h" | "hh" | "hy" | "xh">, relative: Float64Array): JointData {
  const { components, from, square, column, x, xx, xy } = data;
  const [h, hh, hy] = [0, 0, 0].map(() => new Float64Array(components));
  const xh = new Float64Array(column.length);
  for (let i = 0; i < components; i++) {
    const first = from[i]!;
    const size = from[i + 1]! - first;
    for (let a = 0; a < size; a++) {
      const at = first + a;
      for (let b = 0; b < size; b++)
        xh[at]! += relative[column[first + b]!]! * xx[square[i]! + b * size + a]!;
      const weight = relative[column[at]!]!;
      h![i]! += weight * x[at]!;
      hh![i]! += weight * xh[at]!;
      hy![i]! += weight * xy[at]!;
    }
  }
  return { ...data, h: h!, hh: hh!, hy: hy!, xh };
}

/** Rows ordered by component, as components first come; aircraft by the last row of each component. */
function byComponent(table: JointTable) {
  const numbers = new Map<number, number>();
  const number = Int32Array.from(table.component, (component) => {
    const known = numbers.get(component);
    if (known !== undefined) return known;
    numbers.set(component, numbers.size);
    return numbers.size - 1;
  });
  const ends = new Int32Array(numbers.size);
  for (const i of number) ends[i]!++;
  for (let i = 1; i < ends.length; i++) ends[i]! += ends[i - 1]!;
  const next = Int32Array.from(ends, (_, i) => (i === 0 ? 0 : ends[i - 1]!));
  const order = new Int32Array(table.rows);
  for (let row = 0; row < table.rows; row++) order[next[number[row]!]!++] = row;
  const tails = new Map<number, number>();
  const aircraftOf = Int32Array.from(ends, (end) => {
    const tail = table.aircraft[order[end - 1]!]!;
    const known = tails.get(tail);
    if (known !== undefined) return known;
    tails.set(tail, tails.size);
    return tails.size - 1;
  });
  return { order, ends, aircraftOf, aircraft: tails.size };
}

/** Column of each environment and standard: −1 where nobody flew so. */
function rowColumns({ environments, standards }: JointTable, cells: readonly Cell[]): Int32Array {
  const columns = new Int32Array(environments.length * standards.length).fill(-1);
  for (const [k, { environment, standard }] of cells.entries())
    columns[environment * standards.length + standard] = standards.length + k;
  return columns;
}

/** Sums over the rows of one component, by the columns in which it has anything. */
function productsOf(table: JointTable, columns: Int32Array, rows: Int32Array) {
  const standards = table.standards.length;
  const present = new Set<number>();
  for (const row of rows) {
    present.add(table.standard[row]!);
    for (const [e, hours] of table.hoursIn.entries()) {
      const column = columns[e * standards + table.standard[row]!]!;
      if (hours[row] !== 0 && column >= 0) present.add(column);
    }
  }
  const used = [...present].sort((a, b) => a - b);
  const size = used.length;
  const value = new Float64Array(size);
  const x = new Float64Array(size);
  const xy = new Float64Array(size);
  const xx = new Float64Array(size * size);
  let y = 0;
  let yy = 0;
  for (const row of rows) {
    const wear = table.wearMm[row]!;
    const standard = table.standard[row]!;
    value.fill(0);
    value[used.indexOf(standard)] = 1;
    for (const [e, hours] of table.hoursIn.entries()) {
      if (hours[row] === 0) continue;
      const at = used.indexOf(columns[e * standards + standard]!);
      if (at >= 0) value[at] = hours[row]! / 1000;
    }
    for (let a = 0; a < size; a++) {
      x[a]! += value[a]!;
      xy[a]! += value[a]! * wear;
      for (let b = 0; b < size; b++) xx[a * size + b]! += value[a]! * value[b]!;
    }
    y += wear;
    yy += wear * wear;
  }
  return { used, x, xy, xx, y, yy };
}
