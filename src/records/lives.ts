/**
 * Lives from the exports: histories cut into lives, lives cut into pieces at each move of environment or change of
 * standard, and each piece's end: over limit (always somewhere since the last good look), or censored at the last good
 * look, because hours nobody looked at prove nothing.
 */
import type { Day } from "../units.ts";
import { entryOf } from "./entry.ts";
import type { ReadExports } from "./exports.ts";
import { type FittingIndex, indexFittings } from "./fittings.ts";
import { type FlownIndex, indexFlown } from "./flown.ts";
import { GroupKeys } from "./group-keys.ts";
import { type History, histories, type Look, type Removal } from "./history.ts";
import type { Exclusion, GroupKey, Life } from "./life.ts";
import { LifePacker } from "./life-columns.ts";
import { piecesOf } from "./life-pieces.ts";
import { livesFrom } from "./life-view.ts";
import { LookSpacing } from "./look-spacing.ts";
import { type EnvironmentOfHours, isOver, type PieceContext } from "./open-pieces.ts";
import { WearScatter } from "./own-line.ts";
import { type RecordsBegin, recordsBeginOf } from "./records-begin.ts";
import { type FittedAt, type LeftOut, type LifeRun, splitLives } from "./split-lives.ts";

export interface LivesSettings {
  readonly asOf: Day;
  /** By part number of the component table. */
  readonly parts: readonly { readonly part: string; readonly replaceAtMm: number }[];
  /** True where hours are the airframe's, to be converted by the fittings. */
  readonly airframeClock: boolean;
  /** Present interval of a group, hours (the shortest of its tasks); null where no task covers it. */
  readonly presentIntervalH: (group: GroupKey) => number | null;
}

export interface Lives {
  readonly lives: readonly Life[];
  readonly exclusions: readonly Exclusion[];
}

/** Lives of all components up to the as-of day, in component order. */
export function buildLives(exports: ReadExports, settings: LivesSettings): Lives {
  const fittings = indexFittings(exports, settings.asOf, settings.airframeClock);
  const recordsBegin = recordsBeginOf(exports);
  // Histories are cut twice, first for what all lives share: to keep a fleet's would cost far more.
  const places = { fittings, flown: indexFlown(exports), groups: new GroupKeys() };
  const shared = shareOfAll(componentRuns(exports, settings, fittings), settings, places);
  const exclusions: Exclusion[] = [...shared.leftOut];
  if (recordsBegin === null) return { lives: [], exclusions };
  const fleet = { ...shared, ...places, settings, recordsBegin };
  const packer = new LifePacker();
  for (const { history, runs } of componentRuns(exports, settings, fittings)) {
    for (const [index, run] of runs.entries()) {
      const context = contextOf(runs, index, history, fleet);
      if (context === null) exclusions.push(unknownUsage(history.component, run));
      else for (const piece of piecesOf(run, context)) packer.add(piece);
    }
  }
  return { lives: livesFrom(packer.take()), exclusions };
}

interface ComponentRuns {
  readonly history: History;
  readonly runs: readonly LifeRun[];
  readonly leftOut: readonly LeftOut[];
}

/** The history of each component, cut into lives. */
function* componentRuns(
  exports: ReadExports,
  { asOf, airframeClock, parts }: LivesSettings,
  fittings: FittingIndex,
): Generator<ComponentRuns> {
  for (const history of histories(exports, asOf, fittings, airframeClock)) {
    const fitted = fittedAt(fittings, history.component);
    yield { history, ...splitLives(history, parts[history.part]!.replaceAtMm, fitted) };
  }
}

/** What a life takes from all of them. */
interface SharedByLives {
  readonly leftOut: readonly Exclusion[];
  /** The fleet's hours a day: total hours over total days of all lives with two looks or more; null without any. */
  readonly fleetHoursPerDay: number | null;
  /** Scatter of readings about a component's own line, by part. */
  readonly scatterMm: readonly number[];
  readonly lookSpacing: LookSpacing;
}

/** What says where hours were flown, and the group that they count in. */
interface Places {
  readonly fittings: FittingIndex;
  readonly flown: FlownIndex;
  readonly groups: GroupKeys;
}

function shareOfAll(
  components: Iterable<ComponentRuns>,
  settings: LivesSettings,
  places: Places,
): SharedByLives {
  const leftOut: Exclusion[] = [];
  const lookSpacing = new LookSpacing();
  const scatter = settings.parts.map(() => new WearScatter());
  let hours = 0;
  let days = 0;
  for (const { history, runs, leftOut: own } of components) {
    for (const { reason, row } of own) leftOut.push({ component: history.component, reason, rows: [row] });
    for (const { looks } of runs) {
      scatter[history.part]!.add(looks);
      const [first, second] = looks;
      const last = looks.at(-1);
      if (first && second) {
        const group = groupAt(first, history, settings, places);
        lookSpacing.add(group, first.day, second.hours - first.hours);
      }
      if (!first || !last || last.day <= first.day) continue;
      hours += last.hours - first.hours;
      days += last.day - first.day;
    }
  }
  return {
    leftOut,
    fleetHoursPerDay: hours > 0 ? hours / days : null,
    scatterMm: scatter.map((one) => one.scatterMm()),
    lookSpacing,
  };
}

/** The group that the hours up to a life's first row count in. */
function groupAt(
  first: Look | Removal,
  history: History,
  settings: LivesSettings,
  { fittings, flown, groups }: Places,
): GroupKey {
  const { part } = settings.parts[history.part]!;
  const { environment } = environmentOfHours(first, first.day, history.component, flown, fittings);
  return groups.of(part, environment, first.standard);
}

interface FleetContext extends SharedByLives, Places {
  readonly settings: LivesSettings;
  readonly recordsBegin: RecordsBegin;
}

/** What a life is cut by; null where its usage, and with it its entry, can't be known. */
function contextOf(
  runs: readonly LifeRun[],
  index: number,
  history: History,
  fleet: FleetContext,
): PieceContext | null {
  const { settings, fittings, flown, groups } = fleet;
  const { component } = history;
  const run = runs[index]!;
  const part = settings.parts[history.part]!;
  const hoursPerDay = runHoursPerDay(run) ?? fleet.fleetHoursPerDay;
  if (hoursPerDay === null) return null;
  const first = run.looks[0] ?? run.removal!;
  const group = groupAt(first, history, settings, fleet);
  const basis = {
    fittings,
    recordsBegin: fleet.recordsBegin.of(first.aircraft, first.environment),
    hoursPerDay,
    lookIntervalH: fleet.lookSpacing.at(group, first.day) ?? settings.presentIntervalH(group) ?? 0,
    firstLookIsOver: run.looks[0] !== undefined && isOver(run.looks[0], part.replaceAtMm),
  };
  return {
    component,
    life: index + 1,
    part,
    entry: entryOf(run, component, basis),
    scatterMm: fleet.scatterMm[history.part]!,
    presentIntervalH: settings.presentIntervalH,
    groupOf: (environment, standard) => groups.of(part.part, environment, standard),
    environmentOf: (look, fromDay) => environmentOfHours(look, fromDay, component, flown, fittings),
    removalIsMissing: runs[index + 1]?.start === "hours fell",
  };
}

/** A component's fittings with hours on the life's clock. */
export const fittedAt = (fittings: FittingIndex, component: number): FittedAt[] =>
  fittings
    .of(component)
    .map((fitting) => ({ day: fitting.installedOn, hours: fittings.lifeHoursAt(component, fitting) }));

/** Environment of the hours before a row: as flown, else the fitted aircraft's base, else as the row records it. */
export function environmentOfHours(
  row: { readonly aircraft: string; readonly day: Day; readonly environment: string },
  fromDay: Day,
  component: number,
  flown: FlownIndex,
  fittings: FittingIndex,
): EnvironmentOfHours {
  const aircraft = row.aircraft || fittings.at(component, fromDay)?.aircraft || "";
  const asFlown = flown.known ? flown.mainEnvironment(aircraft, fromDay, row.day) : null;
  if (asFlown !== null) return { environment: asFlown, from: "flying" };
  const base = fittings.at(component, fromDay)?.environment ?? null;
  if (base !== null) return { environment: base, from: "base" };
  return { environment: row.environment, from: "later reading" };
}

/** Hours a day over the looks of a life; null with fewer than two days of looks. */
function runHoursPerDay(run: LifeRun): number | null {
  const first = run.looks[0];
  const last = run.removal ?? run.looks.at(-1);
  if (!first || !last || last.day === first.day || !(last.hours > first.hours)) return null;
  return (last.hours - first.hours) / (last.day - first.day);
}

const unknownUsage = (component: number, run: LifeRun): Exclusion => ({
  component,
  reason: "its hours a day can't be known, nor the fleet's: no component has two looks",
  rows: [...run.looks.map((look) => look.row), ...(run.removal ? [run.removal.row] : [])],
});
