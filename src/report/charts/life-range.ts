/** What the life panels of one part share: the hours of their axis, and the kinds of observation below it. */
import type { Bounded, GroupResult } from "../../interval/month-result.ts";
import { LIFE_KINDS, type LifeKindName } from "./life-marks.ts";

type HasLife = Pick<GroupResult, "life">;

export interface HoursRange {
  readonly lowest: number;
  readonly highest: number;
}

/** Share of the finds that may lie before the axis begins. */
const EARLY_SHARE = 0.02;

/**
 * Hours that hold every life read off and all but the earliest 2 % of the finds. One find at next to nothing, or a life
 * still running there, would stretch a log axis over decades with nothing in them: such marks stand at its left end, and
 * the caption counts them. Most of a decade at least, so that a slope shows.
 */
export function lifeRange(groups: readonly HasLife[]): HoursRange {
  const marks = groups.flatMap(({ life }) => life.marks);
  const readOff = groups.flatMap(({ life }) =>
    life.weibull === null ? [] : boundsOf(life.weibull.tenPercentHours),
  );
  const finds = marks.flatMap((mark) => mark.upper ?? []).sort((a, b) => a - b);
  const early = finds[Math.floor(EARLY_SHARE * finds.length)] ?? Number.POSITIVE_INFINITY;
  const highest =
    [...readOff, ...finds, ...marks.map((mark) => mark.lower)].reduce((a, b) => Math.max(a, b), 10) * 1.08;
  const lowest = readOff
    .filter((at) => at > 0)
    .reduce((a, b) => Math.min(a, b), Math.min(early, highest / 8));
  return { lowest: Math.max(1, 0.8 * lowest), highest };
}

const boundsOf = ({ estimate, lower, upper }: Bounded): number[] => [
  estimate,
  lower ?? estimate,
  upper ?? estimate,
];

/** Kinds of observation that any of the groups has, so that panels share their rows of marks. */
export const lifeKinds = (groups: readonly HasLife[]): LifeKindName[] =>
  LIFE_KINDS.filter((kind) => groups.some(({ life }) => life.marks.some((mark) => mark.kind === kind)));
