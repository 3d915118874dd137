/** Every risk at every interval of the grid, from the two lines of evidence. */
import type { Acceptable, Part } from "../fleet/fleet.ts";
import type { Life } from "../records/life.ts";
import type { IntervalRisks } from "./decide.ts";
import { type BoundSide, remembered, type SurvivalLine } from "./lines.ts";
import type { Bounded, RiskAtInterval } from "./month-result.ts";
import { type Horizon, overLimitShare } from "./over-limit-share.ts";
import type { WeighedRisk } from "./weighed-risk.ts";

/**
 * A risk at hours between looks (lateness included), with bounds; null where it can't be had. Where only the upper bound is
 * had and a level is given, an upper bound over it may be any number between them.
 */
export type RiskAtSpacing = (spacingH: number, upTo?: number) => Bounded | null;

/** The two methods' over-limit share and the unsafe-at risk, at one confidence. */
export interface RiskLines {
  readonly life: RiskAtSpacing;
  readonly wear: RiskAtSpacing;
  readonly unsafe: RiskAtSpacing;
}

/** Over-limit share of a line at any spacing, each computed once. @param greatestAgeH, horizon  see overLimitShare */
export function shareOf(
  line: SurvivalLine | null,
  greatestAgeH: number,
  side: BoundSide = "both",
  horizon: Horizon = "long run",
): RiskAtSpacing {
  if (line === null) return () => null;
  const compute = (spacingH: number, asked: BoundSide) =>
    line.bounded((survival) => overLimitShare(survival, spacingH, greatestAgeH, horizon), asked);
  return boundedOnce(side, compute);
}

/** Each bound is computed once; up to a level only, again where a later question needs more. */
export function boundedOnce(
  side: BoundSide,
  compute: (spacingH: number, side: BoundSide) => Bounded,
): RiskAtSpacing {
  const whole = remembered((spacingH: number) => compute(spacingH, side));
  if (side === "both") return whole;
  const known = new Map<number, Bounded>();
  return (spacingH, upTo = Number.POSITIVE_INFINITY) => {
    const ready = known.get(spacingH);
    if (ready !== undefined) return ready;
    const value = compute(spacingH, upTo === Number.POSITIVE_INFINITY ? side : { upTo });
    if (value.upper === null || value.upper <= upTo) known.set(spacingH, value);
    return value;
  };
}

/**
 * @param tolerance  looks are flown late by up to this share of the interval
 * @param upTo       no more of an upper bound than whether it is over what is acceptable. __Default value:__ all of it
 */
export const risksOnGrid = (
  grid: readonly number[],
  tolerance: number,
  lines: RiskLines,
  upTo?: Acceptable,
): RiskAtInterval[] =>
  grid.map((intervalH) => {
    const spacingH = intervalH * (1 + tolerance);
    const share = upTo && justOver(upTo.overLimitPerInspection);
    return {
      intervalH,
      overLimitPerInspection: { life: lines.life(spacingH, share), wear: lines.wear(spacingH, share) },
      unsafeBeforeSeen: lines.unsafe(spacingH, upTo && justOver(upTo.unsafeBeforeSeen)),
    };
  });

/** Over a level for certain, whatever the precision it is compared at. */
export const justOver = (level: number): number => level * (1 + 1e-8);

/** Names of the risks, as the decision weighs them. */
export const OVER_LIMIT = "over limit per inspection";
export const UNSAFE = "unsafe before it is seen";

/** Risks as the decision weighs them: of the two methods the worse counts; the unsafe risk only where U is known. */
export function weighed(
  risks: readonly RiskAtInterval[],
  acceptable: Acceptable,
  part: Part,
): IntervalRisks[] {
  return risks.map(({ intervalH, overLimitPerInspection: { life, wear }, unsafeBeforeSeen }) => {
    const items: WeighedRisk[] = [
      {
        name: OVER_LIMIT,
        acceptable: acceptable.overLimitPerInspection,
        value: worse(life, wear),
      },
    ];
    if (part.unsafeAtMm !== null) {
      items.push({
        name: UNSAFE,
        acceptable: acceptable.unsafeBeforeSeen,
        value: unsafeBeforeSeen,
      });
    }
    return { intervalH, risks: items };
  });
}

/** The worse of two methods. A method that is there but sets no bound leaves none; one that is not there is silent. */
export function worse(a: Bounded | null, b: Bounded | null): Bounded | null {
  if (a === null) return b;
  if (b === null) return a;
  return {
    estimate: Math.max(a.estimate, b.estimate),
    lower: a.lower === null || b.lower === null ? (a.lower ?? b.lower) : Math.max(a.lower, b.lower),
    upper: a.upper === null || b.upper === null ? null : Math.max(a.upper, b.upper),
  };
}

/** Greatest age at which enough components of enough aircraft were still being looked at; 0 where there never were. */
export function greatestAge(lives: readonly Life[], components: number, aircraft: number): number {
  const oldestFirst = [...lives].sort((a, b) => b.lastHours - a.lastHours);
  const seen = new Set<number>();
  const seenAircraft = new Set<string>();
  for (const life of oldestFirst) {
    seen.add(life.component);
    seenAircraft.add(life.aircraft);
    if (seen.size >= components && seenAircraft.size >= aircraft) return life.lastHours;
  }
  return 0;
}
