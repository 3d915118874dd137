/**
 * Do the two lines agree? The wear fit predicts, for the very looks made, how many would find a component at or over
 * the limit; the exact distribution of that count says whether what was found could be chance.
 */
import { survivalBelowLimit } from "../wear/rate-families.ts";
import type { GroupEvidence, Lines } from "./evidence.ts";
import type { CheckResult } from "./rule-context.ts";

/** Compares the finds predicted for the looks made with those found. */
export function linesAgree(
  { readings, part }: GroupEvidence,
  { wear }: Lines,
  leastP: number,
): CheckResult | null {
  if (wear.kind === "none") return null;
  const { parameters } = wear.line.fit.fits[0]!;
  const survivalAt = new Map<number, number>();
  const survival = (hours: number) => {
    const known = survivalAt.get(hours) ?? survivalBelowLimit(parameters, hours, part.replaceAtMm);
    survivalAt.set(hours, known);
    return known;
  };
  const chances: number[] = [];
  let found = 0;
  for (const life of readings.lives) {
    let before = life.entryHours;
    for (const hours of life.lookHours) {
      const now = survival(before);
      if (hours > before && now > 0) chances.push(Math.min(1, Math.max(0, 1 - survival(hours) / now)));
      before = hours;
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

/** Two-sided exact p of a count that is a sum of independent chances: twice the smaller tail, at most 1. */
export function countPValue(chances: readonly number[], count: number): number {
  // Distribution of the count by adding one look at a time; only counts up to the observed one matter for the lower tail,
  // and the upper tail is what is left.
  const chanceOf = new Float64Array(count + 1);
  chanceOf[0] = 1;
  for (let looks = 1; looks <= chances.length; looks++) {
    const chance = chances[looks - 1]!;
    const missed = 1 - chance;
    for (let k = Math.min(count, looks); k > 0; k--)
      chanceOf[k] = chanceOf[k]! * missed + chanceOf[k - 1]! * chance;
    chanceOf[0]! *= missed;
  }
  let below = 0;
  for (let k = 0; k < count; k++) below += chanceOf[k]!;
  const atMost = below + chanceOf[count]!;
  return Math.min(1, 2 * Math.min(atMost, 1 - below));
}
