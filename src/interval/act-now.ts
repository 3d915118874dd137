/**
 * Act now: what needs a person today, from the rows alone, before and apart from any model.
 */
import type { Fleet } from "../fleet/fleet.ts";
import { type ReadExports, wordAt } from "../records/exports.ts";
import { GroupKeys } from "../records/group-keys.ts";
import type { GroupKey, Life } from "../records/life.ts";
import { standardAt } from "../records/standard.ts";
import { UNASSIGNED } from "../records/words.ts";
import type { Day } from "../units.ts";
import { componentStates } from "./component-states.ts";
import { failureLines } from "./failure-lines.ts";
import type { FailureRecord } from "./failure-record.ts";
import { goBackLines } from "./go-back-lines.ts";
import type { ActNowKind, ActNowLine } from "./month-result.ts";
import { type OverdueContext, overdueLine } from "./overdue.ts";
import { readingLines } from "./reading-lines.ts";

export interface ActNowContext {
  readonly exports: ReadExports;
  readonly fleet: Fleet;
  readonly asOf: Day;
  /** Lives in component order: a component's last piece says which group it is in. */
  readonly lives: readonly Life[];
  readonly overdue: OverdueContext;
  /** Says in which group a component failed. */
  readonly failures: FailureRecord;
}

const ORDER: readonly ActNowKind[] = [
  "at or over unsafe-at limit",
  "functional failure",
  "fitted at or over replace-at limit",
  "look overdue",
  "go-back number reached",
];

/** Lines in order of gravity, then component. Rows with unknown words count here too: a reading is a reading. */
export function actNow(context: ActNowContext): ActNowLine[] {
  const { exports, fleet, asOf, lives } = context;
  const states = componentStates(fleet, exports, asOf);
  const lastPiece = new Int32Array(exports.components.count).fill(-1);
  for (const [at, { component }] of lives.entries()) lastPiece[component] = at;
  const rosterGroups = new GroupKeys();
  const baseOf = (component: number) => ({
    group:
      lives[lastPiece[component]!]?.group ??
      rosterGroup(context, component, fleet.parts[exports.components.part[component]!]!.part, rosterGroups),
    serial: exports.components.serial[component]!,
  });
  const lines: ActNowLine[] = [];
  for (let component = 0; component < exports.components.count; component++) {
    const state = states(component);
    if (state === null) continue;
    const part = fleet.parts[exports.components.part[component]!]!;
    const base = baseOf(component);
    lines.push(...readingLines(exports, asOf, state, part, base));
    const overdue = state.fitted ? overdueLine(context.overdue, component, state.lastLook, base) : null;
    if (overdue) lines.push(overdue);
  }
  lines.push(...failureLines(exports, asOf, context.failures, baseOf), ...goBackLines(context));
  return lines.sort((a, b) => ORDER.indexOf(a.kind) - ORDER.indexOf(b.kind));
}

/** The group of a component that no life tells of: what the roster records. */
function rosterGroup(
  { exports, overdue }: ActNowContext,
  component: number,
  part: string,
  groups: GroupKeys,
): GroupKey {
  const row = overdue.rosterRow[component]!;
  if (row < 0) return groups.of(part, UNASSIGNED, UNASSIGNED);
  const { environment, standard } = exports.installed!;
  return groups.of(part, wordAt(environment, row) ?? UNASSIGNED, standardAt(standard, row));
}
