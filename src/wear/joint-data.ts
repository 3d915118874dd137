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
  const rows = byComponent(table);
  const places = columnPlaces(table, cells);
  const standards = table.standards.length;
  const columns = standards + cells.length;
  const own = ownColumns(table, places, columns, rows);
  const { from, square } = own;
  const components = rows.ends.length;
  const pairs = from[components]!;
  const data = {
    columns,
    readings: table.rows,
    components,
    aircraft: rows.aircraft,
    aircraftOf: rows.aircraftOf,
    ...own,
    x: new Float64Array(pairs),
    xy: new Float64Array(pairs),
    xx: new Float64Array(square[components]!),
    count: new Float64Array(components),
    y: new Float64Array(components),
    yy: new Float64Array(components),
  };
  addRows(table, places, rows, data);
  return weighted(
    data,
    Float64Array.from({ length: columns }, (_, k) => (k < standards ? 0 : 1)),
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
interface ComponentRows {
  readonly order: Int32Array;
  /** One past the last row of each component, in that order. */
  readonly ends: Int32Array;
  readonly aircraftOf: Int32Array;
  readonly aircraft: number;
}

function byComponent(table: JointTable): ComponentRows {
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
function columnPlaces({ environments, standards }: JointTable, cells: readonly Cell[]): Int32Array {
  const places = new Int32Array(environments.length * standards.length).fill(-1);
  for (const [k, { environment, standard }] of cells.entries())
    places[environment * standards.length + standard] = standards.length + k;
  return places;
}

/** Calls for each column in which a row is not zero. */
function eachColumn(
  table: JointTable,
  places: Int32Array,
  row: number,
  use: (column: number, value: number) => void,
): void {
  const standard = table.standard[row]!;
  use(standard, 1);
  for (let e = 0; e < table.hoursIn.length; e++) {
    const hours = table.hoursIn[e]![row]!;
    const column = places[e * table.standards.length + standard]!;
    if (hours !== 0 && column >= 0) use(column, hours / 1000);
  }
}

/** The columns of each component, ascending. */
function ownColumns(table: JointTable, places: Int32Array, columns: number, { order, ends }: ComponentRows) {
  const from = new Int32Array(ends.length + 1);
  const square = new Int32Array(ends.length + 1);
  const column: number[] = [];
  const seenBy = new Int32Array(columns).fill(-1);
  let at = 0;
  for (let i = 0; i < ends.length; i++) {
    for (; at < ends[i]!; at++)
      eachColumn(table, places, order[at]!, (k) => {
        seenBy[k] = i;
      });
    for (let k = 0; k < columns; k++) if (seenBy[k] === i) column.push(k);
    from[i + 1] = column.length;
    square[i + 1] = square[i]! + (column.length - from[i]!) ** 2;
  }
  return { from, square, column: Int32Array.from(column) };
}

/** Adds all rows to their components' sums. */
function addRows(
  table: JointTable,
  places: Int32Array,
  { order, ends }: ComponentRows,
  to: Omit<JointData, "h" | "hh" | "hy" | "xh">,
): void {
  const value = new Float64Array(to.columns);
  const put = (column: number, one: number) => {
    value[column] = one;
  };
  let at = 0;
  for (let i = 0; i < ends.length; i++) {
    const first = to.from[i]!;
    const size = to.from[i + 1]! - first;
    for (; at < ends[i]!; at++) {
      const row = order[at]!;
      const wear = table.wearMm[row]!;
      for (let a = 0; a < size; a++) value[to.column[first + a]!] = 0;
      eachColumn(table, places, row, put);
      for (let a = 0; a < size; a++) {
        const x = value[to.column[first + a]!]!;
        to.x[first + a]! += x;
        to.xy[first + a]! += x * wear;
        for (let b = 0; b < size; b++)
          to.xx[to.square[i]! + a * size + b]! += x * value[to.column[first + b]!]!;
      }
      to.count[i]!++;
      to.y[i]! += wear;
      to.yy[i]! += wear * wear;
    }
  }
}
