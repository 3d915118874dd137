/** What a group's components came off for: each failure mode with the others as censoring, and their incidence together. */
import { cumulativeIncidence, type IncidenceStep, incidenceBounds } from "../life/cumulative-incidence.ts";
import { twoSidedDrop } from "../life/likelihood-drop.ts";
import { lifeAt, lifeBounds, shapeBounds } from "../life/profile-bounds.ts";
import { fitWeibull } from "../life/weibull-fit.ts";
import { aircraftNumbers } from "../records/event-table.ts";
import type { Life } from "../records/life.ts";
import { type LifeByMode, livesByMode, modeTables } from "../records/mode-lives.ts";
import type { GroupModes, IncidencePoint } from "./life-findings.ts";

/**
 * @param greatestAgeH  greatest age with enough components at risk: there the chances are stated; 0: at the last event
 * @param confidence    of the two-sided bounds
 */
export function groupModes(lives: readonly Life[], greatestAgeH: number, confidence: number): GroupModes {
  const found = livesByMode(lives);
  // Beyond the greatest age a handful are at risk: one event among one would empty the risk set and end the curve.
  const watched = found.flatMap((life) =>
    upTo(life, greatestAgeH > 0 ? greatestAgeH : Number.POSITIVE_INFINITY),
  );
  const { modes: seen, steps, givenHours, alone } = cumulativeIncidence(watched);
  const atHours = greatestAgeH > 0 ? greatestAgeH : (steps.at(-1)?.hours ?? 0);
  const eventsOf = new Map<string | null, number>();
  for (const { mode } of found) eventsOf.set(mode, (eventsOf.get(mode) ?? 0) + 1);
  const modes = [...new Set([...seen, ...eventsOf.keys()])].filter((mode) => mode !== null);
  const drop = twoSidedDrop(confidence);
  const tableOf = modeTables(lives, aircraftNumbers(lives).numbers);
  return {
    atHours,
    givenHours,
    modes: modes.map((mode) => {
      const fit = fitWeibull(tableOf(mode));
      const curve = incidenceCurve(steps, seen.indexOf(mode), confidence);
      const { chance, lower, upper } = curve.at(-1) ?? NO_CHANCE;
      return {
        mode,
        events: eventsOf.get(mode) ?? 0,
        chance: { estimate: chance, lower, upper },
        curve,
        // Other modes as if they had never been: what one minus the product-limit curve of this mode alone would say.
        chanceAlone: alone[seen.indexOf(mode)] ?? 0,
        shape: fit.kind === "fitted" ? { estimate: fit.shape, ...sides(shapeBounds(fit, drop)) } : null,
        tenPercentHours:
          fit.kind === "fitted" ? { estimate: lifeAt(fit, 0.1), ...sides(lifeBounds(fit, 0.1, drop)) } : null,
        why: fit.kind === "fitted" ? null : fit.why,
      };
    }),
  };
}

const NO_CHANCE = { chance: 0, lower: null, upper: null };

/** More points than this are not told apart on a chart. */
const MOST_POINTS = 120;

/** The chance of one mode along the hours, from its first event on; evenly thinned where there are very many steps. */
function incidenceCurve(
  steps: readonly IncidenceStep[],
  mode: number,
  confidence: number,
): readonly IncidencePoint[] {
  if (mode < 0) return [];
  const all = steps.filter(({ incidence }) => incidence[mode]! > 0);
  const every = Math.ceil(all.length / MOST_POINTS);
  return all
    .filter((_, at) => (all.length - 1 - at) % every === 0)
    .map(({ hours, incidence, standardError }) => ({
      hours,
      chance: incidence[mode]!,
      ...incidenceBounds(incidence[mode]!, standardError[mode]!, confidence),
    }));
}

const sides = ({ lower, upper }: { lower: number | null; upper: number | null }) => ({ lower, upper });

/** A life as it was known at some hours; none where it was not yet watched then. */
function upTo(life: LifeByMode, hours: number): LifeByMode[] {
  if (life.entryHours >= hours) return [];
  return life.hours <= hours ? [life] : [{ ...life, hours, mode: null }];
}
