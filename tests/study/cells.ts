/**
 * The true median rate of each cell of the study (truth, spread, with or without an unsafe-at limit, step of the ratio): the
 * one at which both true risks are just acceptable at ratio × 600 h. Kept in a file, as are true risks at other intervals.
 */
import { appendFileSync, existsSync, readFileSync } from "node:fs";
import { ACCEPTABLE, PRESENT_H, partOf, ratioOf, type StudyFleet } from "./kinds.ts";
import { type TrueRisks, trueRisks } from "./truth.ts";

type Cell = Pick<StudyFleet, "truth" | "logSd" | "unsafeAt" | "ratioStep">;

const COMPONENTS = 60_000;
const SEED = 20_240_901;

/** True risks over the acceptable ones, the worse of the two. */
export const excessOf = ({ overLimit, unsafe }: TrueRisks): number =>
  Math.max(overLimit / ACCEPTABLE.overLimitPerInspection, unsafe / ACCEPTABLE.unsafeBeforeSeen);

export class TruthBook {
  readonly #path: string;
  readonly #known = new Map<string, unknown>();

  /**
   * @param found  file of what was found out by an earlier run: it takes half an hour, and tests find some of it again
   * @param path   file that what is found out anew is added to
   */
  constructor(found: string, path: string) {
    this.#path = path;
    for (const from of [found, path]) {
      if (!existsSync(from)) continue;
      for (const line of readFileSync(from, "utf8").split("\n")) {
        if (line === "") continue;
        const { key, value } = JSON.parse(line) as { key: string; value: unknown };
        this.#known.set(key, value);
      }
    }
  }

  /** Median rate, mm per 1000 h. */
  medianOf(cell: Cell): number {
    return this.#once(`median ${keyOf(cell)}`, () => searchMedian(cell));
  }

  /** True risks of a cell at an interval. */
  risksAt(cell: Cell, intervalH: number): TrueRisks {
    return this.#once(`risks ${keyOf(cell)} ${intervalH}`, () => {
      const part = partOf(cell.truth, cell.logSd, this.medianOf(cell), cell.unsafeAt);
      return trueRisks(part, intervalH, COMPONENTS, SEED);
    });
  }

  #once<T>(key: string, compute: () => T): T {
    if (!this.#known.has(key)) {
      const value = compute();
      this.#known.set(key, value);
      appendFileSync(this.#path, `${JSON.stringify({ key, value })}\n`);
    }
    return this.#known.get(key) as T;
  }
}

const keyOf = ({ truth, logSd, unsafeAt, ratioStep }: Cell): string =>
  [truth, logSd, unsafeAt ? "unsafe-at" : "no unsafe-at", ratioStep].join(" ");

/** Near enough to just acceptable, in the log of the risk. */
const CLOSE = 0.02;
const MOST_STEPS = 8;

/** Secant steps in the logs of rate and risk, kept within what is known to be too slow and too fast. */
function searchMedian(cell: Cell): number {
  const intervalH = ratioOf(cell.ratioStep) * PRESENT_H;
  const logExcess = (logMedian: number) => {
    const part = partOf(cell.truth, cell.logSd, Math.exp(logMedian), cell.unsafeAt);
    return Math.log(Math.max(excessOf(trueRisks(part, intervalH, COMPONENTS, SEED)), 1e-6));
  };
  let at = Math.log((cell.unsafeAt ? 30 : 55) / intervalH);
  let [tooSlow, tooFast] = [at - Math.log(8), at + Math.log(8)];
  let slope = cell.unsafeAt ? 6 : 1.5;
  let last: { at: number; value: number } | null = null;
  for (let step = 0; step < MOST_STEPS; step++) {
    const value = logExcess(at);
    if (Math.abs(value) < CLOSE) return Math.exp(at);
    if (value > 0) tooFast = at;
    else tooSlow = at;
    if (last !== null) slope = Math.max(0.5, (value - last.value) / (at - last.at));
    last = { at, value };
    const next = at - value / slope;
    at = next > tooSlow && next < tooFast ? next : (tooSlow + tooFast) / 2;
  }
  return Math.exp(at);
}
