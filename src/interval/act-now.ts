/**
 * Act now: what needs a person today, from the rows alone, before and apart from any model.
 */
import type { Fleet } from "../fleet/fleet.ts";
import { FINDING, FOUND_AT, LOOK, type ReadExports, wordAt } from "../records/exports.ts";
import { GroupKeys } from "../records/group-keys.ts";
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
  const { exports, asOf, lives } = context;
  const states = componentStates(exports, asOf);
  const lastPiece = new Int32Array(exports.components.count).fill(-1);
  for (const [at, { component }] of lives.entries()) lastPiece[component] = at;
  const rosterGroups = new GroupKeys();
  const monthAgo = addMonths(asOf, -1);
  const lines: ActNowLine[] = [];
  for (let component = 0; component < exports.components.count; component++) {
    const state = states(component);
    if (state === null) continue;
    const part = context.fleet.parts[exports.components.part[component]!]!;
    const group =
      lives[lastPiece[component]!]?.group ?? rosterGroup(context, component, part.part, rosterGroups);
    const base = { group, serial: exports.components.serial[component]! };
    lines.push(...readingLines(context, state, part, base));
    const failure = failureLine(context, state, monthAgo, base);
    if (failure) lines.push(failure);
    const overdue = state.fitted ? overdueLine(context.overdue, component, state.lastLook, base) : null;
    if (overdue) lines.push(overdue);
  }
  lines.push(...goBackLines(context));
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

/** What the rows say of one component on the as-of day. */
interface ComponentState {
  /** Row of the latest look, or -1. */
  readonly lastLook: number;
  readonly lastRemoval: number;
  readonly fitted: boolean;
  /** Looks of the as-of month. */
  readonly recentLooks: readonly number[];
}

/** States by component; null where no row up to the as-of day names it. */
function componentStates(exports: ReadExports, asOf: Day): (component: number) => ComponentState | null {
  const { wear, removals, installed, components } = exports;
  const { lastLook, recentLooks } = latestLooks(wear, components.count, asOf);
  const lastRemoval = new Int32Array(components.count).fill(-1);
  for (let row = 0; row < (removals?.rows ?? 0); row++) {
    const component = removals!.component[row]!;
    if (removals!.day[row]! > asOf || component < 0) continue;
    const last = lastRemoval[component]!;
    if (last < 0 || removals!.day[row]! >= removals!.day[last]!) lastRemoval[component] = row;
  }
  // A component fitted and never looked at has a look overdue all the same.
  const lastFitted = new Int32Array(components.count).fill(NEVER);
  for (let row = 0; row < (installed?.rows ?? 0); row++) {
    const component = installed!.component[row]!;
    const day = installed!.installedOn[row]!;
    if (component >= 0 && day <= asOf && day > lastFitted[component]!) lastFitted[component] = day;
  }
  const isFitted = (component: number): boolean => {
    if (lastRemoval[component]! < 0) return true;
    const removedOn = removals!.day[lastRemoval[component]!]!;
    const lookedAtSince = lastLook[component]! >= 0 && wear!.day[lastLook[component]!]! > removedOn;
    return lookedAtSince || lastFitted[component]! >= removedOn;
  };
  return (component) => {
    const [look, removal] = [lastLook[component]!, lastRemoval[component]!];
    if (look < 0 && removal < 0 && lastFitted[component] === NEVER) return null;
    const recent = recentLooks.get(component) ?? [];
    return { lastLook: look, lastRemoval: removal, fitted: isFitted(component), recentLooks: recent };
  };
}

/** Before every day of a calendar. */
const NEVER = -2_147_483_648;

/** Row of each component's latest look, -1 without one, and its rows of the as-of month where it has any. */
function latestLooks(
  wear: ReadExports["wear"],
  components: number,
  asOf: Day,
): { lastLook: Int32Array; recentLooks: Map<number, number[]> } {
  const lastLook = new Int32Array(components).fill(-1);
  const recentLooks = new Map<number, number[]>();
  if (wear === null) return { lastLook, recentLooks };
  const monthAgo = addMonths(asOf, -1);
  for (let row = 0; row < wear.rows; row++) {
    const day = wear.day[row]!;
    const component: number = wear.component[row]!;
    if (day > asOf || component < 0) continue;
    const last = lastLook[component]!;
    const later =
      last < 0 || day > wear.day[last]! || (day === wear.day[last] && wear.hours[row]! >= wear.hours[last]!);
    if (later) lastLook[component] = row;
    if (day <= monthAgo) continue;
    const recent = recentLooks.get(component);
    if (recent === undefined) recentLooks.set(component, [row]);
    else recent.push(row);
  }
  return { lastLook, recentLooks };
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
  { exports }: ActNowContext,
  state: ComponentState,
  monthAgo: Day,
  base: { group: GroupKey; serial: string },
): ActNowLine | null {
  const { removals } = exports;
  const row = state.lastRemoval;
  if (!removals || row < 0 || removals.day[row]! <= monthAgo) return null;
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
