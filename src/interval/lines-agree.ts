/**
 * Do the two lines agree? The wear fit predicts, for the very looks made, how many would find a component at or over
 * the limit; the exact distribution of that count says whether what was found could be chance.
 */
import { survivalCurveBelow } from "../wear/rate-families.ts";
import type { GroupEvidence, Lines } from "./evidence.ts";
import { type CheckResult, notMade } from "./rule-context.ts";

/** Compares the finds predicted for the looks made with those found. */
export function linesAgree(
  { readings, part }: GroupEvidence,
  { wear }: Lines,
  leastP: number,
): CheckResult | null {
  if (wear.kind === "none") return notMade("wear line", wear.why);
  const { parameters } = wear.line.fit.fits[0]!;
  const survival = survivalCurveBelow(parameters, part.replaceAtMm);
  const chances: number[] = [];
  let found = 0;
  for (const life of readings.lives) {
    let before = life.entryHours;
    let stillBelow = survival(before);
    for (const hours of life.lookHours) {
      const next = survival(hours);
      if (hours > before && stillBelow > 0) chances.push(Math.min(1, Math.max(0, 1 - next / stillBelow)));
      before = hours;
      stillBelow = next;
    }
    if (life.end === "over limit found") found++;
  }
  if (chances.length === 0) return null;
  const expected = chances.reduce((sum, chance) => sum + chance, 0);
  const p = countPValue(chances, found);
  return {
    passed: p >= leastP,
    found: `${found} found, ${expected.toFixed(1)} predicted in ${chances.length} looks, p ${p.toPrecision(2)}`,
  };
}

/** Chances of so few finds that are less than this by now stay less than rounding. */
const GONE = 1e-30;

/** Two-sided exact p of a count that is a sum of independent chances: twice the smaller tail, at most 1. */
export function countPValue(chances: readonly number[], count: number): number {
  // Distribution of the count by adding one look at a time; only counts up to the observed one matter for the lower tail,
  // and the upper tail is what is left.
  const chanceOf = new Float64Array(count + 1);
  chanceOf[0] = 1;
  let least = 0;
  let most = 0;
  for (const chance of chances) {
    const missed = 1 - chance;
    most = Math.min(count, most + 1);
    for (let k = most; k > least; k--) chanceOf[k] = chanceOf[k]! * missed + chanceOf[k - 1]! * chance;
    chanceOf[least]! *= missed;
    while (least < most && chanceOf[least]! < GONE) least++;
  }
  let below = 0;
  for (let k = 0; k < count; k++) below += chanceOf[k]!;
  const atMost = below + chanceOf[count]!;
  return Math.min(1, 2 * Math.min(atMost, 1 - below));
}
