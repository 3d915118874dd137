/**
 * Which interval holds for a group on a day, since when, and by whose word; and the grid of intervals around it.
 *
 * How the fleet file's lines combine: a task's interval and its exceptions are what is approved now; approved decisions
 * are how it came to be so. A line or a decision speaks for a scope: the whole task, an environment, a standard, or
 * both. In each scope the latest decision on or before a day is what was approved there; a line whose scope has no
 * decision has always held; where the scope's first decision comes later, nothing was approved for the scope by itself.
 * Of several scopes that match a group the shortest interval counts, as for exceptions; the whole task's counts where
 * none matches. A trial holds until the next decision in its scope; a refusal ends it; one that nothing has ended counts
 * only if the file's line agrees with it, since the line says what is approved now.
 */

import type { Day } from "../units.ts";
import type { Fleet, Task } from "./fleet.ts";
import {
  covers,
  decisionsIn,
  isWhole,
  linePresent,
  type NumberedDecision,
  type PresentInterval,
  type Scope,
  type Statement,
  scopesOf,
  timeline,
} from "./interval-timeline.ts";

export type { PresentInterval } from "./interval-timeline.ts";

/** A decision and the present line (or lines) that contradict each other. */
export interface Contradiction {
  readonly decision: number;
  readonly task: number;
  /** Number of the exception that counts now in the decision's scope; null: the task's own interval. */
  readonly exception: number | null;
  readonly presentH: number;
}

/**
 * The interval of a task in a group on a day.
 *
 * @param on  as-of day, or any past day
 */
export function presentInterval(
  fleet: Fleet,
  task: Task,
  environment: string,
  standard: string,
  on: Day,
): PresentInterval {
  const statements = statementsFor(fleet, task, { environment, standard });
  const inForce = statements.findLast(({ from }) => from === null || from <= on) ?? statements[0]!;
  const { from: _, ...present } = inForce;
  return present;
}

/** The intervals of a task in a group, oldest first; each holds from `since` until the next one's. */
export function intervalHistory(
  fleet: Fleet,
  task: Task,
  environment: string,
  standard: string,
): PresentInterval[] {
  return statementsFor(fleet, task, { environment, standard })
    .filter(({ from, since }) => from === since)
    .map(({ from: _, ...interval }) => interval);
}

/** What was said for a group, oldest first, from the day it was said; `since` when the interval became what it is. */
function statementsFor(fleet: Fleet, task: Task, group: Scope): (PresentInterval & { from: Day | null })[] {
  const scopes = scopesOf(fleet, task).filter((scope) => covers(scope, group));
  const timelines = scopes.map((scope) => ({ scope, statements: timeline(fleet, task, scope) }));
  const days = timelines.flatMap(({ statements }) => statements.map(({ since }) => since ?? ALWAYS));
  const said: (PresentInterval & { from: Day | null })[] = [];
  for (const day of [...new Set(days)].sort((a, b) => a - b)) {
    const inForce = shortestInForce(timelines, day);
    const from = day === ALWAYS ? null : day;
    const before = said.at(-1);
    // A decision that confirms the interval is its newest authority but no change of it.
    const goesOn = before?.intervalH === inForce.intervalH && isRecorded(before) === isRecorded(inForce);
    said.push({ ...inForce, from, since: goesOn ? before.since : from });
  }
  return said;
}

/** Last approved decisions that the task's present lines contradict; an unusable fleet file has any. */
export function contradictions(fleet: Fleet): Contradiction[] {
  return fleet.tasks.flatMap((task, taskNumber) =>
    scopesOf(fleet, task).flatMap((scope) => {
      const decided = decisionsIn(fleet, task, scope);
      const last = decided.findLast(({ decision }) => decision.outcome === "approved");
      if (last === undefined) return [];
      const present = linePresent(task, scope);
      if (present.intervalH === last.decision.intervalH) return [];
      if (trialSince(last, decided, present.intervalH)) return [];
      return [
        {
          decision: last.number,
          task: taskNumber,
          exception: present.exception,
          presentH: present.intervalH,
        },
      ];
    }),
  );
}

/**
 * The intervals that are weighed: the present one and steps down to above zero and up to twice the present (or further
 * where the largest change allows it), or the fleet file's list; ascending, always with the present one.
 */
export function intervalGrid(fleet: Fleet, presentH: number): number[] {
  const { stepH, list, largestChange } = fleet.intervalSteps;
  if (list !== null) return [...new Set([...list, presentH])].sort((a, b) => a - b);
  if (stepH === null) throw new Error("interval grid has neither step nor list");
  const down = Math.ceil(presentH / stepH - 1e-9) - 1;
  const up = Math.max(1, Math.floor((presentH * Math.max(1, largestChange)) / stepH + 1e-9));
  return Array.from({ length: down + up + 1 }, (_, i) => presentH + (i - down) * stepH);
}

/** The day of what has always held. */
const ALWAYS = Number.NEGATIVE_INFINITY;

const isRecorded = (interval: PresentInterval): boolean => interval.source !== "not recorded";

/** Whether the present interval is that of a trial after the last approval. */
const trialSince = (
  last: NumberedDecision,
  decided: readonly NumberedDecision[],
  presentH: number,
): boolean =>
  decided
    .slice(decided.indexOf(last) + 1)
    .some(({ decision }) => decision.outcome === "trial" && decision.intervalH === presentH);

/** The shortest statement of the narrower scopes in force on a day, else the whole task's. */
function shortestInForce(
  timelines: readonly { readonly scope: Scope; readonly statements: readonly Statement[] }[],
  on: Day,
): PresentInterval {
  let whole: Statement | undefined;
  let shortest: (Statement & { readonly intervalH: number }) | undefined;
  for (const { scope, statements } of timelines) {
    const inForce = statements.findLast(({ since }) => since === null || since <= on);
    if (inForce?.intervalH == null) continue;
    if (isWhole(scope)) whole = inForce;
    else if (shortest === undefined || inForce.intervalH < shortest.intervalH)
      shortest = { ...inForce, intervalH: inForce.intervalH };
  }
  const statement = shortest ?? whole;
  if (statement?.intervalH == null) {
    throw new Error("a task has an interval of its own, so one is always in force");
  }
  return { ...statement, intervalH: statement.intervalH };
}
