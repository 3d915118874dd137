/** Two tables of 10,000 seeded lives from one Weibull distribution: right-censored, and known only between looks. */
import { mkdir, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { seededRandom } from "../../src/math/random.ts";
import { SEED } from "./make-data.ts";

const LIVES = 10_000;
const SHAPE = 2.5;
const SCALE_H = 3000;
/** Flown so far: anything up to here. */
const MOST_FLOWN_H = 5000;
const INTERVAL_H = 300;

export interface LivesTables {
  readonly right: string;
  readonly interval: string;
}

/** Writes both tables; columns lower and upper, in hours, an empty upper for a life still running. */
export async function writeLivesTables(work: string): Promise<LivesTables> {
  await mkdir(work, { recursive: true });
  const random = seededRandom(SEED);
  const right = ["lower,upper"];
  const interval = ["lower,upper"];
  for (let i = 0; i < LIVES; i++) {
    const lifeH = SCALE_H * (-Math.log1p(-random.uniform())) ** (1 / SHAPE);
    const flownH = MOST_FLOWN_H * (0.05 + 0.95 * random.uniform());
    const failed = lifeH < flownH;
    right.push(failed ? `${lifeH.toFixed(1)},${lifeH.toFixed(1)}` : `${flownH.toFixed(1)},`);
    // Looks come at the interval, give or take a tenth; the first one sometime in it.
    const spacingH = INTERVAL_H * (0.9 + 0.2 * random.uniform());
    const firstH = spacingH * (0.2 + 0.8 * random.uniform());
    const looksBy = (hours: number) => (hours < firstH ? 0 : 1 + Math.floor((hours - firstH) / spacingH));
    const lookH = (n: number) => (n === 0 ? 0 : firstH + (n - 1) * spacingH);
    const good = looksBy(Math.min(lifeH, flownH));
    const found = looksBy(flownH) > good && failed;
    if (good > 0 || found)
      interval.push(`${lookH(good).toFixed(1)},${found ? lookH(good + 1).toFixed(1) : ""}`);
  }
  const tables = { right: join(work, "lives-right.csv"), interval: join(work, "lives-interval.csv") };
  await writeFile(tables.right, `${right.join("\n")}\n`);
  await writeFile(tables.interval, `${interval.join("\n")}\n`);
  return tables;
}
