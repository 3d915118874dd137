/** A scenario for each recommendation: what its interval would be with every seal in tolerance. */
import type { GroupKey } from "../records/life.ts";
import type { Recommendation, RiskAtInterval } from "./month-result.ts";
import type { OwnRecommendation } from "./recommend.ts";
import type { PartWear } from "./wear-findings.ts";

/** @param wear  of the recommendation's part */
export function withSealsIn(recommendation: OwnRecommendation, wear: PartWear): Recommendation {
  const { group, longestByBoundH, risks, wouldChange } = recommendation;
  const rateShare = rateWithSealsIn(wear, group);
  const sealsIn =
    rateShare === null || longestByBoundH === null
      ? null
      : { rateShare, longestH: slower(longestByBoundH, rateShare, risks) };
  return { ...recommendation, wouldChange: { ...wouldChange, sealsIn } };
}

/**
 * A group's rate with every seal in tolerance, as a share of its rate as flown: the scenario's cautious side, its upper
 * bound. null where it isn't known, or is not below 1.
 */
export function rateWithSealsIn({ seal }: PartWear, { environment, standard }: GroupKey): number | null {
  if (seal.kind !== "fitted") return null;
  const group = seal.groups.find((one) => one.environment === environment && one.standard === standard);
  const share = group?.rateAllIn?.upper ?? null;
  return share !== null && share > 0 && share < 1 ? share : null;
}

/** With all rates times a share, an interval counts as that share of it: the longest grid interval within longest/share. */
export function slower(longestH: number, rateShare: number, risks: readonly RiskAtInterval[]): number {
  const reachH = (longestH / Math.max(rateShare, 1e-9)) * (1 + 1e-9);
  return Math.max(longestH, ...risks.map(({ intervalH }) => intervalH).filter((h) => h <= reachH));
}
