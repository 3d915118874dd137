/**
 * Over limit per inspection: of the looks made at one spacing, the share that finds the component at or over the
 * replace-at limit. S is the chance of being still below the limit at some hours.
 */

/** Terms of the long-run sum below this are left out, and whatever lies past so many looks: it makes the share larger. */
const NEGLIGIBLE = 1e-6;
const MOST_LOOKS = 5_000;

/**
 * The larger of two shares, as the same group may be young or settled:
 * the worst over the first K looks of a new component, (1 − S(K·T)) / Σ_{k<K} S(k·T), with K up to the greatest age
 * observed; and the long run of replacing for ever, 1 / Σ_{k≥0} S(k·T).
 *
 * @param survival       S(hours), decreasing from 1
 * @param spacingH       hours between looks, lateness included
 * @param greatestAgeH   greatest age with enough components at risk; at least one look is always reckoned
 */
export function overLimitShare(
  survival: (hours: number) => number,
  spacingH: number,
  greatestAgeH: number,
): number {
  const looksObserved = Math.max(1, Math.floor(greatestAgeH / spacingH + 1e-9));
  let stillBelow = 1;
  let looks = 0;
  let worst = 0;
  for (let k = 1; k <= MOST_LOOKS; k++) {
    looks += stillBelow;
    stillBelow = survival(k * spacingH);
    if (k <= looksObserved) worst = Math.max(worst, (1 - stillBelow) / looks);
    else if (stillBelow < NEGLIGIBLE) return Math.max(worst, 1 / (looks + stillBelow));
  }
  // Nothing wears out within thousands of looks: the long-run share is smaller than any that matters.
  return Math.max(worst, 1 / looks);
}
