/** What a group's components came off for: each failure mode with the others as censoring, and their incidence together. */
import { cumulativeIncidence, type IncidenceStep } from "../life/cumulative-incidence.ts";
import { twoSidedDrop } from "../life/likelihood-drop.ts";
import { lifeAt, lifeBounds, shapeBounds } from "../life/profile-bounds.ts";
import { fitWeibull } from "../life/weibull-fit.ts";
import { aircraftNumbers } from "../records/event-table.ts";
import type { Life } from "../records/life.ts";
import { type LifeByMode, livesByMode, modeTable } from "../records/mode-lives.ts";
import type { GroupModes } from "./life-findings.ts";

/**
 * @param greatestAgeH  greatest age with enough components at risk: there the chances are stated; 0: at the last event
 * @param confidence    of the two-sided bounds
 */
export function groupModes(lives: readonly Life[], greatestAgeH: number, confidence: number): GroupModes {
  const found = livesByMode(lives);
  const { modes, steps, givenHours } = cumulativeIncidence(found);
  const last = steps.at(-1)?.hours ?? 0;
  const atHours = greatestAgeH > 0 ? Math.min(greatestAgeH, Math.max(last, givenHours)) : last;
  const drop = twoSidedDrop(confidence);
  const { numbers } = aircraftNumbers(lives);
  return {
    atHours,
    givenHours,
    modes: modes.map((mode, m) => {
      const fit = fitWeibull(modeTable(lives, mode, numbers));
      return {
        mode,
        events: found.filter((life) => life.mode === mode).length,
        chance: chanceBy(steps, m, atHours),
        chanceAlone: chanceBy(cumulativeIncidence(alone(found, mode)).steps, 0, atHours),
        shape: fit.kind === "fitted" ? { estimate: fit.shape, ...sides(shapeBounds(fit, drop)) } : null,
        tenPercentHours:
          fit.kind === "fitted" ? { estimate: lifeAt(fit, 0.1), ...sides(lifeBounds(fit, 0.1, drop)) } : null,
        why: fit.kind === "fitted" ? null : fit.why,
      };
    }),
  };
}

const sides = ({ lower, upper }: { lower: number | null; upper: number | null }) => ({ lower, upper });

/** Other modes as if they had never been: what one minus the product-limit curve of this mode alone would say. */
const alone = (lives: readonly LifeByMode[], mode: string): LifeByMode[] =>
  lives.map((life) => (life.mode === mode ? life : { ...life, mode: null }));

const chanceBy = (steps: readonly IncidenceStep[], mode: number, hours: number): number =>
  steps.findLast((step) => step.hours <= hours)?.incidence[mode] ?? 0;
