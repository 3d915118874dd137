/** What the wear of each part shows across its groups: environments and standards compared, and the seal's share in it. */
import type { Fleet } from "../fleet/fleet.ts";
import type { GapJoin } from "../records/gap-join.ts";
import type { Life } from "../records/life.ts";
import { compareRates, type RateComparison } from "./rate-comparison.ts";
import { type SealFinding, sealFinding } from "./seal-finding.ts";
import { type StandardChange, standardChanges } from "./standard-change.ts";

export interface PartWear {
  readonly part: string;
  readonly comparison: RateComparison;
  /** Components whose standard changed while they went on. */
  readonly standardChanges: readonly StandardChange[];
  readonly seal: SealFinding;
}

/**
 * Findings of one part.
 *
 * @param lives  of the part, every piece of a component's life with the others
 * @param gaps   joined to components of the part; what joined to none counts for every part
 */
export function wearFindings(
  { sealGaps, acceptable: { confidence } }: Fleet,
  part: string,
  lives: readonly Life[],
  gaps: GapJoin,
): PartWear {
  return {
    part,
    comparison: compareRates(lives, confidence),
    standardChanges: standardChanges(lives, confidence),
    seal: sealFinding(lives, gaps, sealGaps, confidence),
  };
}
