/**
 * Over limit per inspection: of the looks made at one spacing, the share that finds the component at or over the
 * replace-at limit. S is the chance of being still below the limit at some hours.
 */
import type { Survival } from "./lines.ts";

/** Terms of the long-run sum below this are left out; that makes the share larger. */
const NEGLIGIBLE = 1e-6;
/** Looks summed one by one; later ones by blocks, with the trapezoid rule: the curve is smooth over so few looks. */
const ONE_BY_ONE = 20;
const BLOCKS_PER_AGE = 16;
const MOST_LOOKS = 100_000;

const LOGS = Float64Array.from({ length: 1024 }, (_, k) => Math.log(k));
const logOf = (look: number): number => (look < LOGS.length ? LOGS[look]! : Math.log(look));

/** How far a curve is trusted: to the end of all lives, or only as far as components were followed. */
export type Horizon = "long run" | "as followed";

/**
 * The larger of two shares, as the same group may be young or settled:
 * the worst over the first K looks of a new component, (1 − S(K·T)) / Σ_{k<K} S(k·T), with K up to the greatest age
 * observed; and the long run of replacing for ever, 1 / Σ_{k≥0} S(k·T).
 *
 * @param survival       S(hours), decreasing from 1
 * @param spacingH       hours between looks, lateness included
 * @param greatestAgeH   greatest age with enough components at risk; at least one look is always reckoned
 * @param horizon        "as followed" leaves the long run out
 */
export function overLimitShare(
  survival: Survival,
  spacingH: number,
  greatestAgeH: number,
  horizon: Horizon = "long run",
): number {
  const looksObserved = Math.max(1, Math.floor(greatestAgeH / spacingH + 1e-9));
  const { worst, looks } = followLooks(survival, spacingH, looksObserved, horizon);
  if (horizon === "as followed") return worst;
  // Where nothing wears out within so many looks, the long-run share is smaller than any that matters.
  return Math.max(worst, 1 / looks);
}

/** Looks that a life takes in the long run, Σ_{k≥0} S(k·T): its first day counts as one, the last finds it at the limit. */
export const looksPerLife = (survival: Survival, spacingH: number): number =>
  followLooks(survival, spacingH, 1, "long run").looks;

/** Looks from new at one spacing until nothing is left, and the worst share among the first `looksObserved` of them. */
function followLooks(
  survival: Survival,
  spacingH: number,
  looksObserved: number,
  horizon: Horizon,
): { worst: number; looks: number } {
  const logSpacing = Math.log(spacingH);
  let stillBelow = survival(spacingH, logSpacing);
  let worst = 1 - stillBelow;
  // Looks so far: those at 0, T, …, k·T.
  let looks = 1 + stillBelow;
  for (
    let k = 1;
    k <= MOST_LOOKS && (k < looksObserved || (horizon === "long run" && stillBelow >= NEGLIGIBLE));
  ) {
    const step = k < Math.max(ONE_BY_ONE, looksObserved) ? 1 : Math.ceil(k / BLOCKS_PER_AGE);
    k += step;
    const next = survival(k * spacingH, logSpacing + logOf(k));
    if (k <= looksObserved) worst = Math.max(worst, (1 - next) / looks);
    // Looks after the block's first to its last: step − 1 of them between, and the last.
    looks += ((stillBelow + next) / 2) * (step - 1) + next;
    stillBelow = next;
  }
  return { worst, looks };
}
