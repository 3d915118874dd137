/**
 * What was said about a task's interval in one scope (the whole task, an environment, a standard, or both), over time:
 * by the lines of the fleet file and by the decisions in it. How scopes combine is in intervals.ts.
 */
import type { Day } from "../units.ts";
import type { Decision, Fleet, Task } from "./fleet.ts";

export interface PresentInterval {
  readonly intervalH: number;
  /** "not recorded": before the first decision on the whole task; the interval is that decision's, for want of another. */
  readonly source: "task" | "exception" | "decision" | "not recorded";
  readonly reference: string | null;
  /** First day of this interval in this group; null where it has held as long as the file knows. */
  readonly since: Day | null;
}

export interface Scope {
  readonly environment: string | null;
  readonly standard: string | null;
}

export interface Statement extends Omit<PresentInterval, "intervalH"> {
  /** Null: nothing is said for the scope by itself any more. */
  readonly intervalH: number | null;
}

const NOTHING_SAID = { intervalH: null, source: "decision", reference: null } as const;

/** Whether a scope (null: any environment, any standard) takes in a group. */
export const covers = (scope: Scope, group: Scope): boolean =>
  (scope.environment === null || scope.environment === group.environment) &&
  (scope.standard === null || scope.standard === group.standard);

/** Whether a scope is the whole task. */
export const isWhole = (scope: Scope): boolean => scope.environment === null && scope.standard === null;

const same = (a: Scope, b: Scope): boolean => a.environment === b.environment && a.standard === b.standard;

/** The whole task first, then every scope that an exception or a decision names, each once. */
export function scopesOf(fleet: Fleet, task: Task): Scope[] {
  const named: Scope[] = [
    { environment: null, standard: null },
    ...task.exceptions,
    ...fleet.decisions.filter((decision) => decision.task === task.task),
  ].map(({ environment, standard }) => ({ environment, standard }));
  return named.filter((scope, i) => named.findIndex((other) => same(scope, other)) === i);
}

export interface NumberedDecision {
  readonly decision: Decision;
  readonly number: number;
}

/** Decisions of exactly this scope in the order of their dates (of one date: of the file). */
export function decisionsIn(fleet: Fleet, task: Task, scope: Scope): NumberedDecision[] {
  return fleet.decisions
    .map((decision, number) => ({ decision, number }))
    .filter(({ decision }) => decision.task === task.task && same(decision, scope))
    .sort((a, b) => a.decision.on - b.decision.on || a.number - b.number);
}

/** What the present lines say for a scope: the shortest exception that covers it, else the task's interval. */
export function linePresent(task: Task, scope: Scope): { intervalH: number; exception: number | null } {
  let present = { intervalH: task.intervalH, exception: null as number | null };
  task.exceptions.forEach((exception, number) => {
    if (!covers(exception, scope)) return;
    if (present.exception === null || exception.intervalH < present.intervalH) {
      present = { intervalH: exception.intervalH, exception: number };
    }
  });
  return present;
}

/** What was said for one scope by itself, oldest first; empty where nothing ever was. */
export function timeline(fleet: Fleet, task: Task, scope: Scope): Statement[] {
  const decided = decisionsIn(fleet, task, scope).filter(({ decision }) => decision.outcome !== "deferred");
  const base = beforeDecisions(task, scope, decided);
  const statements: Statement[] = base === null ? [] : [base];
  let beforeTrial: Statement | null | undefined;
  for (const { decision } of decided) {
    const { intervalH, on, outcome, reference } = decision;
    if (outcome === "refused") {
      // Only a trial can end by refusal: what held before it holds again, or nothing for this scope by itself.
      if (beforeTrial !== undefined) {
        statements.push({ ...(beforeTrial ?? NOTHING_SAID), since: on });
        beforeTrial = undefined;
      }
      continue;
    }
    beforeTrial =
      outcome === "approved"
        ? undefined
        : beforeTrial === undefined
          ? (statements.at(-1) ?? null)
          : beforeTrial;
    statements.push({ intervalH, source: "decision", reference, since: on });
  }
  const last = statements.at(-1);
  if (beforeTrial !== undefined && last?.intervalH !== linePresent(task, scope).intervalH) statements.pop();
  return statements;
}

/** What held in a scope before its first decision: the line itself, something the file doesn't know, or nothing. */
function beforeDecisions(task: Task, scope: Scope, decided: readonly NumberedDecision[]): Statement | null {
  const whole = isWhole(scope);
  const lineH = whole
    ? task.intervalH
    : task.exceptions.find((exception) => same(exception, scope))?.intervalH;
  if (lineH === undefined) return null;
  const first = decided.find(({ decision }) => decision.outcome !== "refused")?.decision;
  if (first === undefined || first.outcome === "trial") {
    const source = whole ? "task" : "exception";
    return { intervalH: lineH, source, reference: task.reference, since: null };
  }
  if (!whole) return null;
  return { intervalH: first.intervalH, source: "not recorded", reference: null, since: null };
}
