/**
 * Act now: what needs a person today, from the rows alone, before and apart from any model.
 */
import type { Fleet } from "../fleet/fleet.ts";
import { FINDING, FOUND_AT, LOOK, type ReadExports, wordAt } from "../records/exports.ts";
import { indexFittings } from "../records/fittings.ts";
import type { GroupKey, Life } from "../records/life.ts";
import { standardAt } from "../records/standard.ts";
import { UNASSIGNED, WEAR_MODE } from "../records/words.ts";
import { addMonths, type Day } from "../units.ts";
import { goBackLines } from "./go-back-lines.ts";
import type { ActNowKind, ActNowLine } from "./month-result.ts";
import { type OverdueContext, overdueLine } from "./overdue.ts";
import { placeOf } from "./place.ts";

export interface ActNowContext {
  readonly exports: ReadExports;
  readonly fleet: Fleet;
  readonly asOf: Day;
  /** Lives in component order: a component's last piece says which group it is in. */
  readonly lives: readonly Life[];
  readonly overdue: OverdueContext;
}

const ORDER: readonly ActNowKind[] = [
  "at or over unsafe-at limit",
  "functional failure",
  "fitted at or over replace-at limit",
  "look overdue",
  "go-back number reached",
];

const mm = (value: number): string => `${value.toFixed(3)} mm`;

/** Lines in order of gravity, then component. Rows with unknown words count here too: a reading is a reading. */
export function actNow(context: ActNowContext): ActNowLine[] {
  const { exports, asOf } = context;
  const states = componentStates(exports, asOf);
  const lastPiece = new Map<number, Life>();
  for (const life of context.lives) lastPiece.set(life.component, life);
  const lines: ActNowLine[] = [];
  for (const [component, state] of [...states].sort(([a], [b]) => a - b)) {
    const part = context.fleet.parts[exports.components.part[component]!]!;
    const piece = lastPiece.get(component);
    const group = piece?.group ?? rosterGroup(context, component, part.part);
    const base = { group, serial: exports.components.serial[component]! };
    lines.push(...readingLines(context, state, part, base));
    const failure = failureLine(context, state, base);
    if (failure) lines.push(failure);
    const overdue = state.fitted ? overdueLine(context.overdue, component, state.lastLook, base) : null;
    if (overdue) lines.push(overdue);
  }
  lines.push(...goBackLines(context));
  return lines.sort((a, b) => ORDER.indexOf(a.kind) - ORDER.indexOf(b.kind));
}

/** The group of a component that no life tells of: what the roster records. */
function rosterGroup({ exports, overdue }: ActNowContext, component: number, part: string): GroupKey {
  const row = overdue.rosterRow.get(component);
  if (row === undefined) return { part, environment: UNASSIGNED, standard: UNASSIGNED };
  const { environment, standard } = exports.installed!;
  return { part, environment: wordAt(environment, row) ?? UNASSIGNED, standard: standardAt(standard, row) };
}

/** What the rows say of one component on the as-of day. */
interface ComponentState {
  /** Row of the latest look, or -1. */
  lastLook: number;
  lastRemoval: number;
  fitted: boolean;
  /** Looks of the as-of month. */
  readonly recentLooks: number[];
}

function componentStates(exports: ReadExports, asOf: Day): Map<number, ComponentState> {
  const { wear, removals } = exports;
  const monthAgo = addMonths(asOf, -1);
  const states = new Map<number, ComponentState>();
  const stateOf = (component: number): ComponentState => {
    let state = states.get(component);
    if (!state) {
      state = { lastLook: -1, lastRemoval: -1, fitted: true, recentLooks: [] };
      states.set(component, state);
    }
    return state;
  };
  for (let row = 0; row < (wear?.rows ?? 0); row++) {
    const day = wear!.day[row]!;
    if (day > asOf || wear!.component[row]! < 0) continue;
    const state = stateOf(wear!.component[row]!);
    const last = state.lastLook;
    const later =
      last < 0 ||
      day > wear!.day[last]! ||
      (day === wear!.day[last] && wear!.hours[row]! >= wear!.hours[last]!);
    if (later) state.lastLook = row;
    if (day > monthAgo) state.recentLooks.push(row);
  }
  for (let row = 0; row < (removals?.rows ?? 0); row++) {
    if (removals!.day[row]! > asOf || removals!.component[row]! < 0) continue;
    const state = stateOf(removals!.component[row]!);
    if (state.lastRemoval < 0 || removals!.day[row]! >= removals!.day[state.lastRemoval]!)
      state.lastRemoval = row;
  }
  // A component fitted and never looked at has a look overdue all the same.
  const { installed } = exports;
  for (let row = 0; row < (installed?.rows ?? 0); row++)
    if (installed!.installedOn[row]! <= asOf && installed!.component[row]! >= 0)
      stateOf(installed!.component[row]!);
  const fittings = indexFittings(exports, asOf, false);
  for (const [component, state] of states) {
    if (state.lastRemoval < 0) continue;
    const removedOn = removals!.day[state.lastRemoval]!;
    const lookedAtSince = state.lastLook >= 0 && wear!.day[state.lastLook]! > removedOn;
    const fittedSince = fittings.of(component).some(({ installedOn }) => installedOn >= removedOn);
    state.fitted = lookedAtSince || fittedSince;
  }
  return states;
}

function readingLines(
  { exports, asOf }: ActNowContext,
  state: ComponentState,
  part: Fleet["parts"][number],
  base: { group: GroupKey; serial: string },
): ActNowLine[] {
  const wear = exports.wear;
  if (!wear || state.lastLook < 0) return [];
  const lines: ActNowLine[] = [];
  const atRow = (row: number) => ({
    ...base,
    where: placeOf(wear.aircraft, wear.position, row),
    day: wear.day[row]!,
    source: `${exports.files[wear.file[row]!]!.file}:${wear.line[row]!}`,
  });
  const said = new Set<number>();
  for (const row of state.fitted ? [...state.recentLooks, state.lastLook] : state.recentLooks) {
    const reading = wear.wearMm[row]!;
    if (said.has(row) || part.unsafeAtMm === null || !(reading >= part.unsafeAtMm)) continue;
    said.add(row);
    lines.push({
      ...atRow(row),
      kind: "at or over unsafe-at limit",
      found: `wear ${mm(reading)}${state.fitted ? ", still fitted by the records" : ", removed since"}`,
      limit: `unsafe at ${mm(part.unsafeAtMm)}`,
    });
  }
  const row = state.lastLook;
  const inWords = wear.look[row] === LOOK.overLimit;
  if (
    state.fitted &&
    !said.has(row) &&
    wear.day[row]! <= asOf &&
    (inWords || wear.wearMm[row]! >= part.replaceAtMm)
  ) {
    lines.push({
      ...atRow(row),
      kind: "fitted at or over replace-at limit",
      found: inWords
        ? "recorded as over limit, no number"
        : `wear ${mm(wear.wearMm[row]!)}, still fitted by the records`,
      limit: `replace at ${mm(part.replaceAtMm)}`,
    });
  }
  return lines;
}

function failureLine(
  { exports, asOf }: ActNowContext,
  state: ComponentState,
  base: { group: GroupKey; serial: string },
): ActNowLine | null {
  const { removals } = exports;
  const row = state.lastRemoval;
  if (!removals || row < 0 || removals.day[row]! <= addMonths(asOf, -1)) return null;
  const byWear = removals.mode.words[removals.mode.codes[row]!] === WEAR_MODE;
  if (!byWear || removals.found[row] !== FOUND_AT.service || removals.finding[row] === FINDING.noFaultFound)
    return null;
  const cause = removals.cause.codes[row]! < 0 ? "wear" : removals.cause.words[removals.cause.codes[row]!]!;
  return {
    ...base,
    kind: "functional failure",
    where: placeOf(removals.aircraft, removals.position, row),
    found: `removed in service for ${cause}${Number.isNaN(removals.hours[row]!) ? "" : ` at ${Math.round(removals.hours[row]!)} h`}`,
    limit: "no failure in service is expected between looks",
    day: removals.day[row]!,
    source: `${exports.files[removals.file[row]!]!.file}:${removals.line[row]!}`,
  };
}
