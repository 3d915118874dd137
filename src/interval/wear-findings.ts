/** What the wear of each part shows across its groups: environments and standards compared, and the seal's share in it. */

import type { Fleet } from "../fleet/fleet.ts";
import type { ReadExports } from "../records/exports.ts";
import type { GroupKey, Life } from "../records/life.ts";
import type { Day } from "../units.ts";
import { fleetGaps } from "./fleet-gaps.ts";
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

/** Parts with lives, in the order of the fleet file. */
export function wearFindings(
  fleet: Fleet,
  exports: ReadExports,
  lives: readonly Life[],
  asOf: Day,
): PartWear[] {
  const { confidence } = fleet.acceptable;
  const gaps = fleetGaps(fleet, exports, asOf);
  return fleet.parts.flatMap(({ part }) => {
    const own = lives.filter(({ group }) => group.part === part);
    if (own.length === 0) return [];
    return {
      part,
      comparison: compareRates(own, confidence),
      standardChanges: standardChanges(own, confidence),
      seal: sealFinding(own, gaps, fleet.sealGaps, confidence),
    };
  });
}

/**
 * A group's rate with every seal in tolerance, as a share of its rate as flown: the scenario's cautious side, its upper
 * bound. null where it isn't known, or is not below 1.
 */
export function rateWithSealsIn(
  findings: readonly PartWear[],
  { part, environment, standard }: GroupKey,
): number | null {
  const seal = findings.find((finding) => finding.part === part)?.seal;
  if (seal?.kind !== "fitted") return null;
  const group = seal.groups.find((one) => one.environment === environment && one.standard === standard);
  const share = group?.rateAllIn?.upper ?? null;
  return share !== null && share > 0 && share < 1 ? share : null;
}
