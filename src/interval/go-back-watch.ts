/**
 * A change that was approved or is on trial, watched: over-limit finds since then against the go-back number, and
 * against what the lives up to the change would have predicted for the very looks made since.
 */
import type { Decision, Fleet, Task } from "../fleet/fleet.ts";
import { intervalHistory, presentInterval } from "../fleet/intervals.ts";
import { fitWeibull } from "../life/weibull-fit.ts";
import { power } from "../math/power.ts";
import { overLimitTable } from "../records/event-table.ts";
import type { GroupKey, Life } from "../records/life.ts";
import { plainLife } from "../records/life-view.ts";
import type { Day } from "../units.ts";
import { type GoBackState, goBackState } from "./go-back.ts";
import { countPValue } from "./lines-agree.ts";
import { type CountedLook, looksAtInterval } from "./looks-at-present.ts";

export interface GoBackWatch extends GoBackState {
  readonly since: Day;
  readonly intervalH: number;
  /** What counted before the change; null where the fleet file doesn't say. */
  readonly formerH: number | null;
  readonly promisedShare: number;
  /** Whether the decision names the promised share, or the acceptable one stands in for it. */
  readonly promisedBy: "decision" | "acceptable";
  readonly counted: readonly CountedLook[];
}

/** The watch of a group's present interval where a decision lengthened it; null where none did. Needs no model. */
export function goBackWatch(
  fleet: Fleet,
  task: Task,
  group: GroupKey,
  lives: readonly Life[],
  asOf: Day,
): GoBackWatch | null {
  const present = presentInterval(fleet, task, group.environment, group.standard, asOf);
  const { since, intervalH } = present;
  if (since === null || present.source !== "decision") return null;
  const before = intervalHistory(fleet, task, group.environment, group.standard)
    .filter((interval) => (interval.since ?? Number.NEGATIVE_INFINITY) < since)
    .at(-1);
  const formerH = before === undefined || before.source === "not recorded" ? null : before.intervalH;
  if (formerH !== null && formerH >= intervalH) return null;
  const decision = decisionOn(fleet, task, group, since, intervalH);
  const promisedShare = decision?.promisedShare ?? fleet.acceptable.overLimitPerInspection;
  const counted = looksAtInterval(lives, intervalH, since, fleet.evidence.presentIntervalBand);
  return {
    ...goBackState(
      counted.map(({ overLimit }) => overLimit),
      fleet.evidence.looksAtPresentInterval,
      promisedShare,
      fleet.acceptable.confidence,
    ),
    since,
    intervalH,
    formerH,
    promisedShare,
    promisedBy: decision?.promisedShare == null ? "acceptable" : "decision",
    counted,
  };
}

/** The decision of a day that put an interval into force for a group. */
function decisionOn(
  fleet: Fleet,
  task: Task,
  group: GroupKey,
  day: Day,
  intervalH: number,
): Decision | undefined {
  return fleet.decisions.find(
    (decision) =>
      decision.task === task.task &&
      decision.on === day &&
      decision.intervalH === intervalH &&
      (decision.outcome === "approved" || decision.outcome === "trial") &&
      (decision.environment === null || decision.environment === group.environment) &&
      (decision.standard === null || decision.standard === group.standard),
  );
}

/** What lives known before a change predicted for the looks made since. */
export interface PredictedSince {
  readonly expected: number;
  /** Exact two-sided p of the count found. */
  readonly p: number;
}

export type PredictedSinceOutcome =
  | ({ readonly kind: "predicted" } & PredictedSince)
  | { readonly kind: "none"; readonly why: string };

const FEWEST_EVENTS = 3;

/** A Weibull of the lives as they stood on the day of the change, asked for every look counted since. */
export function predictedSince(
  { counted, finds, since }: GoBackWatch,
  lives: readonly Life[],
): PredictedSinceOutcome {
  if (counted.length === 0) return { kind: "none", why: "no look has been made at the new interval yet" };
  const fit = fitWeibull(overLimitTable(livesUntil(lives, since)));
  if (fit.kind !== "fitted" || fit.events < FEWEST_EVENTS) {
    const events = fit.events;
    return {
      kind: "none",
      why: `the lives before the change held ${events} over-limit ${events === 1 ? "event" : "events"}, too few to predict from`,
    };
  }
  const hazard = (hours: number) => power(hours / fit.scaleHours, fit.shape);
  const chances = counted.map(({ beforeHours, hours }) => 1 - Math.exp(hazard(beforeHours) - hazard(hours)));
  const expected = chances.reduce((sum, chance) => sum + chance, 0);
  return { kind: "predicted", expected, p: countPValue(chances, finds) };
}

/** Lives as they were known before a day: what came later is cut off, at the last good look before it. */
export function livesUntil(lives: readonly Life[], day: Day): Life[] {
  return lives.flatMap((life) => {
    if (life.lastDay < day && (life.eventDay === null || life.eventDay < day)) return [life];
    const { lookDays, lookHours } = life;
    const looks = lookDays.filter((lookDay) => lookDay < day).length;
    if (looks === 0) return [];
    const lowerHours = lookHours[looks - 1]!;
    const overAlready = life.eventDay !== null && life.eventDay < day;
    if (overAlready) return [life];
    return [
      {
        ...plainLife(life),
        lowerHours,
        upperHours: Number.POSITIVE_INFINITY,
        end: "still fitted" as const,
        lastHours: lowerHours,
        lastDay: lookDays[looks - 1]!,
        eventDay: null,
        removedDay: null,
        functionalFailureHours: null,
        lookHours: lookHours.slice(0, looks),
        lookDays: lookDays.slice(0, looks),
      },
    ];
  });
}
