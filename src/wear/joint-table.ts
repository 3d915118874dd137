/** What the joint model is fitted to: readings with hours by environment, and their cross products by component. */
import type { JointComponent, JointData } from "./joint-criterion.ts";

/** Readings with the hours flown in each environment up to each. */
export interface JointTable {
  readonly rows: number;
  readonly component: Int32Array;
  readonly aircraft: Int32Array;
  readonly standard: Int32Array;
  /** One column per environment: flight hours on the component's clock flown there, up to the reading. */
  readonly hoursIn: readonly Float64Array[];
  readonly wearMm: Float64Array;
  readonly environments: readonly string[];
  readonly standards: readonly string[];
}

export interface Cell {
  readonly environment: number;
  readonly standard: number;
  readonly hours: number;
}

/** Environment × standard pairs with hours, by environment and then standard; hours to each component's last reading. */
export function cellsOf(table: JointTable): Cell[] {
  const last = new Map<string, number>();
  for (let row = 0; row < table.rows; row++) {
    const total = table.hoursIn.reduce((sum, column) => sum + column[row]!, 0);
    const key = `${table.component[row]} ${table.standard[row]}`;
    const known = last.get(key);
    if (known === undefined || total > table.hoursIn.reduce((sum, column) => sum + column[known]!, 0)) {
      last.set(key, row);
    }
  }
  const cells: Cell[] = [];
  for (let environment = 0; environment < table.environments.length; environment++) {
    for (let standard = 0; standard < table.standards.length; standard++) {
      let hours = 0;
      for (const row of last.values()) {
        if (table.standard[row] === standard) hours += table.hoursIn[environment]![row]!;
      }
      if (hours > 0) cells.push({ environment, standard, hours });
    }
  }
  return cells;
}

/**
 * Cross products: an intercept per standard, then a rate per cell.
 *
 * @param relative  of each cell, what an hour flown there weighs in the slopes by component and by aircraft (1: all alike)
 */
export function jointData(table: JointTable, cells: readonly Cell[], relative?: Float64Array): JointData {
  const p = table.standards.length + cells.length;
  const numbers = new Map<number, number>();
  const aircraftOf = (tail: number) => {
    const known = numbers.get(tail);
    if (known !== undefined) return known;
    numbers.set(tail, numbers.size);
    return numbers.size - 1;
  };
  const byComponent = new Map<number, number[]>();
  for (let row = 0; row < table.rows; row++) {
    const rows = byComponent.get(table.component[row]!);
    if (rows === undefined) byComponent.set(table.component[row]!, [row]);
    else rows.push(row);
  }
  const components = Array.from(byComponent.values(), (rows) => {
    const last = rows[rows.length - 1]!;
    return crossProductsOf(table, cells, rows, aircraftOf(table.aircraft[last]!), p, relative);
  });
  return { columns: p, readings: table.rows, aircraft: numbers.size, components };
}

function crossProductsOf(
  table: JointTable,
  cells: readonly Cell[],
  rows: readonly number[],
  aircraft: number,
  p: number,
  relative: Float64Array | undefined,
): JointComponent {
  const xz = new Float64Array(2 * p);
  const xx = new Float64Array(p * p);
  const xy = new Float64Array(p);
  const zz: [number, number, number] = [0, 0, 0];
  const zy: [number, number] = [0, 0];
  let yy = 0;
  const x = new Float64Array(p);
  for (const row of rows) {
    x.fill(0);
    x[table.standard[row]!] = 1;
    let h = 0;
    for (const [k, cell] of cells.entries()) {
      if (cell.standard !== table.standard[row]) continue;
      const flown = table.hoursIn[cell.environment]![row]! / 1000;
      x[table.standards.length + k] = flown;
      h += flown * (relative?.[k] ?? 1);
    }
    const y = table.wearMm[row]!;
    for (let i = 0; i < p; i++) {
      if (x[i] === 0) continue;
      xz[2 * i]! += x[i]!;
      xz[2 * i + 1]! += x[i]! * h;
      xy[i]! += x[i]! * y;
      for (let j = 0; j < p; j++) xx[i * p + j]! += x[i]! * x[j]!;
    }
    zz[0] += 1;
    zz[1] += h;
    zz[2] += h * h;
    zy[0] += y;
    zy[1] += h * y;
    yy += y * y;
  }
  const used = Int32Array.from(
    Array.from(xz.keys()).filter((k) => k % 2 === 0 && (xz[k] !== 0 || xz[k + 1] !== 0)),
    (k) => k / 2,
  );
  return { aircraft, used, readings: rows.length, zz, xz, xx, zy, xy, yy };
}
