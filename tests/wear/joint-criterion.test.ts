import { determinant, Matrix, inverse as matrixInverse } from "ml-matrix";
import { describe, expect, it } from "vitest";
import { jointCriterion } from "../../src/wear/joint-criterion.ts";
import { jointData, weighted } from "../../src/wear/joint-data.ts";
import type { JointSpread } from "../../src/wear/joint-products.ts";
import { type Cell, cellsOf, type JointTable } from "../../src/wear/joint-table.ts";
import { readJointTable } from "../support/joint-reference.ts";

const SPREADS: readonly JointSpread[] = [
  [0.8, 0.4, 2, 1.5],
  [0.3, -2, 0.7, 0.2],
];

/** What an hour weighs, by column: two intercepts, then the cells. */
const relativeFor = (cells: readonly Cell[]) =>
  Float64Array.from({ length: cells.length + 2 }, (_, k) => (k < 2 ? 0 : 0.5 + 0.3 * k));

/** The same by whole matrices: slow, and nothing in common with the sums. */
function plainly(table: JointTable, cells: readonly Cell[], relative: Float64Array, spread: JointSpread) {
  const [l, m, n, g] = spread;
  const x = Matrix.zeros(table.rows, cells.length + 2);
  const hours = new Float64Array(table.rows);
  for (let row = 0; row < table.rows; row++) {
    x.set(row, table.standard[row]!, 1);
    for (const [k, cell] of cells.entries()) {
      if (cell.standard !== table.standard[row]) continue;
      const flown = table.hoursIn[cell.environment]![row]! / 1000;
      x.set(row, k + 2, flown);
      hours[row]! += relative[k + 2]! * flown;
    }
  }
  const v = Matrix.eye(table.rows);
  for (let i = 0; i < table.rows; i++) {
    for (let j = 0; j < table.rows; j++) {
      let covariance = v.get(i, j);
      if (table.aircraft[i] === table.aircraft[j]) covariance += g * g * hours[i]! * hours[j]!;
      if (table.component[i] === table.component[j])
        covariance += l * l + l * m * (hours[i]! + hours[j]!) + (m * m + n * n) * hours[i]! * hours[j]!;
      v.set(i, j, covariance);
    }
  }
  const inverse = matrixInverse(v);
  const y = Matrix.columnVector(Array.from(table.wearMm));
  const information = x.transpose().mmul(inverse).mmul(x);
  const fixed = matrixInverse(information).mmul(x.transpose().mmul(inverse).mmul(y));
  const residual = Matrix.sub(y, x.mmul(fixed));
  const rss = residual.transpose().mmul(inverse).mmul(residual).get(0, 0);
  return (
    (table.rows - cells.length - 2) * Math.log(rss) +
    Math.log(determinant(v)) +
    Math.log(determinant(information))
  );
}

/** The first aircraft of the table: few enough rows for whole matrices. */
function firstAircraft(table: JointTable, most: number): JointTable {
  const rows = [...table.aircraft.keys()].filter((row) => table.aircraft[row]! < most);
  const pick = (values: ArrayLike<number>) => rows.map((row) => values[row]!);
  return {
    ...table,
    rows: rows.length,
    component: Int32Array.from(pick(table.component)),
    aircraft: Int32Array.from(pick(table.aircraft)),
    standard: Int32Array.from(pick(table.standard)),
    hoursIn: table.hoursIn.map((column) => Float64Array.from(pick(column))),
    wearMm: Float64Array.from(pick(table.wearMm)),
  };
}

describe("jointCriterion(data)", () => {
  it("is the restricted likelihood that whole matrices give, hours weighed by where they were flown", () => {
    const table = firstAircraft(readJointTable(), 5);
    expect(table.rows).toBeGreaterThan(40);
    const cells = cellsOf(table);
    const relative = relativeFor(cells);
    const criterion = jointCriterion(weighted(jointData(table, cells), relative));
    for (const spread of SPREADS) {
      const fit = criterion.fitAt(spread);
      expect(fit?.value).toBeCloseTo(plainly(table, cells, relative, spread), 6);
    }
  });

  it("has the gradient that differences give", () => {
    const table = readJointTable();
    const cells = cellsOf(table);
    const criterion = jointCriterion(weighted(jointData(table, cells), relativeFor(cells)));
    for (const spread of SPREADS) {
      const gradient = new Float64Array(4);
      criterion.evaluate(spread, gradient);
      for (const [k, slope] of gradient.entries()) {
        const at = (step: number) =>
          criterion.fitAt(spread.map((s, j) => (j === k ? s + step : s)) as unknown as JointSpread)!.value;
        const difference = (at(1e-5) - at(-1e-5)) / 2e-5;
        expect(Math.abs(slope - difference)).toBeLessThan(1e-6 * (1 + Math.abs(difference)));
      }
    }
  });
});
