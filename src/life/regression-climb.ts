/**
 * The way up a Weibull regression's log-likelihood: damped Newton in the log hazards' coefficients and the shape, in which it
 * is concave without late entry. Rows of one design row share their log hazard: each such cell is a likelihood of its own.
 */
import type { LifeTable } from "../records/life-table.ts";
import { choleskySolver } from "./cholesky.ts";
import { type WeibullLikelihood, weibullLikelihood } from "./likelihood-terms.ts";
import { likelihoodAt } from "./weibull-likelihood.ts";

/** Lives of one design row. */
export interface Cell {
  readonly design: Float64Array;
  /** Its log hours are not centred: alpha is the log cumulative hazard at 1 hour. */
  readonly data: WeibullLikelihood;
}

/** The rows of a table by their design row. */
export function cellsOf(table: LifeTable, design: readonly Float64Array[]): Cell[] {
  const rows = new Map<string, number[]>();
  for (const [row, values] of design.entries()) {
    const key = values.join(" ");
    const same = rows.get(key);
    if (same === undefined) rows.set(key, [row]);
    else same.push(row);
  }
  return [...rows.values()].map((own) => ({
    design: design[own[0]!]!,
    data: weibullLikelihood(someRows(table, own), 0),
  }));
}

const someRows = (table: LifeTable, rows: readonly number[]): LifeTable => ({
  rows: rows.length,
  entryHours: Float64Array.from(rows, (row) => table.entryHours[row]!),
  lowerHours: Float64Array.from(rows, (row) => table.lowerHours[row]!),
  upperHours: Float64Array.from(rows, (row) => table.upperHours[row]!),
  count: Float64Array.from(rows, (row) => table.count[row]!),
  cluster: Int32Array.from(rows, (row) => table.cluster[row]!),
});

/** A point with the log-likelihood there: log hazard at 1 hour = design · hazards; the last of each list is the shape's. */
export interface RegressionPoint {
  readonly hazards: Float64Array;
  readonly shape: number;
  readonly value: number;
  readonly gradient: Float64Array;
  /** Minus the second derivatives, row-major. */
  readonly information: Float64Array;
}

/** Log-likelihood and derivatives, cell by cell. */
function regressionAt(cells: readonly Cell[], hazards: Float64Array, shape: number): RegressionPoint {
  const columns = hazards.length;
  const n = columns + 1;
  const gradient = new Float64Array(n);
  const information = new Float64Array(n * n);
  let value = 0;
  for (const { design, data } of cells) {
    const at = likelihoodAt(data, dot(design, hazards), shape);
    value += at.value;
    gradient[columns]! += at.gradBeta;
    information[n * n - 1]! -= at.hessBetaBeta;
    for (let i = 0; i < columns; i++) {
      gradient[i]! += at.gradAlpha * design[i]!;
      information[i * n + columns]! -= at.hessAlphaBeta * design[i]!;
      information[columns * n + i]! -= at.hessAlphaBeta * design[i]!;
      for (let j = 0; j < columns; j++)
        information[i * n + j]! -= at.hessAlphaAlpha * design[i]! * design[j]!;
    }
  }
  return { hazards, shape, value, gradient, information };
}

/** The top, with the last Newton step before it; null where the search does not end, or the shape runs away. */
export function climbRegression(
  cells: readonly Cell[],
  start: { readonly hazards: Float64Array; readonly shape: number },
): { top: RegressionPoint; lastStep: Float64Array } | null {
  let here = regressionAt(cells, start.hazards, start.shape);
  for (let iteration = 0; iteration < 200; iteration++) {
    const step = newtonStep(here);
    if (step === null) return null;
    const gain = dot(step, here.gradient);
    const slack = 1e-14 * (1 + Math.abs(here.value));
    // Quadratic convergence: one full step after a small one makes it exact.
    if (gain <= slack) return { top: moved(cells, here, step, 1), lastStep: step };
    const next = damped(cells, here, step, gain, slack);
    if (next === null || Math.abs(Math.log(next.shape)) > FARTHEST_LOG_SHAPE) return null;
    here = next;
  }
  return null;
}

const FARTHEST_LOG_SHAPE = 12;

/** With late entry the information may be indefinite: then a ridge as great as it needs. */
function newtonStep({ gradient, information }: RegressionPoint): Float64Array | null {
  const n = gradient.length;
  for (let ridge = 0; ridge < 1e12; ridge = ridge === 0 ? 1 : ridge * 10) {
    const raised = information.map((value, k) =>
      k % (n + 1) === 0 ? value + ridge * Math.abs(value) : value,
    );
    const step = choleskySolver(raised, n)(gradient);
    if (step !== null) return step;
  }
  return null;
}

const moved = (
  cells: readonly Cell[],
  { hazards, shape }: RegressionPoint,
  step: Float64Array,
  size: number,
): RegressionPoint =>
  regressionAt(
    cells,
    hazards.map((value, k) => value + size * step[k]!),
    shape + size * step[hazards.length]!,
  );

function damped(
  cells: readonly Cell[],
  here: RegressionPoint,
  step: Float64Array,
  gain: number,
  slack: number,
): RegressionPoint | null {
  const byShape = step[here.hazards.length]!;
  let size = 1;
  if (byShape < 0) size = Math.min(size, (0.7 * here.shape) / -byShape);
  if (byShape > 0) size = Math.min(size, (3 * here.shape) / byShape);
  for (let i = 0; i < 50; i++) {
    const trial = moved(cells, here, step, size);
    if (trial.value - here.value >= 1e-4 * size * gain - slack) return trial;
    size /= 2;
  }
  return null;
}

/** Over the entries of the first. */
export const dot = (a: Float64Array, b: Float64Array): number =>
  a.reduce((sum, value, k) => sum + value * b[k]!, 0);
