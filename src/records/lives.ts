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
import { type History, histories } from "./history.ts";
import type { Exclusion, GroupKey, Life } from "./life.ts";
import { type EnvironmentOfHours, isOver, type PieceContext, piecesOf } from "./life-pieces.ts";
import { wearScatterMm } from "./own-line.ts";
import { type FittedAt, type LifeRun, splitLives } from "./split-lives.ts";

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
  /** First day of the records, null without a row. */
  readonly recordsBegin: Day | null;
}

interface ComponentRuns {
  readonly history: History;
  readonly runs: readonly LifeRun[];
}

/** Lives of all components up to the as-of day, in component order. */
export function buildLives(exports: ReadExports, settings: LivesSettings): Lives {
  const fittings = indexFittings(exports, settings.asOf, settings.airframeClock);
  const flown = indexFlown(exports);
  const exclusions: Exclusion[] = [];
  const components: ComponentRuns[] = [];
  for (const history of histories(exports, settings.asOf, fittings, settings.airframeClock)) {
    const { runs, leftOut } = splitLives(
      history,
      settings.parts[history.part]!.replaceAtMm,
      fittedAt(fittings, history.component),
    );
    for (const { reason, row } of leftOut)
      exclusions.push({ component: history.component, reason, rows: [row] });
    components.push({ history, runs });
  }
  const recordsBegin = firstDay(exports);
  if (recordsBegin === null) return { lives: [], exclusions, recordsBegin };
  const fleetHoursPerDay = usualHoursPerDay(components);
  const scatterMm = settings.parts.map((_, part) => wearScatterMm(readingsOf(components, part)));
  const lives: Life[] = [];
  for (const { history, runs } of components) {
    const part = settings.parts[history.part]!;
    for (const [index, run] of runs.entries()) {
      const first = run.looks[0] ?? run.removal!;
      const { environment } = environmentOfHours(first, first.day, history.component, flown, fittings);
      const group = { part: part.part, environment, standard: first.standard };
      const hoursPerDay = runHoursPerDay(run) ?? fleetHoursPerDay;
      if (hoursPerDay === null) {
        exclusions.push(unknownUsage(history.component, run));
        continue;
      }
      const interval = settings.presentIntervalH(group) ?? 0;
      const overAtFirst = run.looks[0] !== undefined && isOver(run.looks[0], part.replaceAtMm);
      const entry = entryOf(
        run,
        history.component,
        fittings,
        recordsBegin,
        hoursPerDay,
        interval,
        overAtFirst,
      );
      const context: PieceContext = {
        component: history.component,
        life: index + 1,
        part,
        entry,
        scatterMm: scatterMm[history.part]!,
        presentIntervalH: settings.presentIntervalH,
        environmentOf: (look, fromDay) =>
          environmentOfHours(look, fromDay, history.component, flown, fittings),
        removalIsMissing: runs[index + 1]?.start === "hours fell",
      };
      lives.push(...piecesOf(run, context));
    }
  }
  return { lives, exclusions, recordsBegin };
}

/** A component's fittings with hours on the life's clock. */
export const fittedAt = (fittings: FittingIndex, component: number): FittedAt[] =>
  fittings
    .of(component)
    .map((fitting) => ({ day: fitting.installedOn, hours: fittings.lifeHoursAt(component, fitting) }));

/** Environment of the hours before a row: as flown, else the fitted aircraft's base, else as the row records it. */
function environmentOfHours(
  row: { readonly aircraft: string; readonly day: Day; readonly environment: string },
  fromDay: Day,
  component: number,
  flown: FlownIndex,
  fittings: FittingIndex,
): EnvironmentOfHours {
  const fitting = fittings.at(component, fromDay);
  const aircraft = row.aircraft || fitting?.aircraft || "";
  const asFlown = flown.known ? flown.mainEnvironment(aircraft, fromDay, row.day) : null;
  if (asFlown !== null) return { environment: asFlown, from: "flying" };
  const base = fitting?.environment ?? null;
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

/** The fleet's hours a day: total hours over total days of all lives with two looks or more; null without any. */
function usualHoursPerDay(components: readonly ComponentRuns[]): number | null {
  let hours = 0;
  let days = 0;
  for (const { runs } of components) {
    for (const run of runs) {
      const first = run.looks[0];
      const last = run.looks.at(-1);
      if (!first || !last || last.day <= first.day) continue;
      hours += last.hours - first.hours;
      days += last.day - first.day;
    }
  }
  return hours > 0 ? hours / days : null;
}

function* readingsOf(components: readonly ComponentRuns[], part: number) {
  for (const { history, runs } of components) {
    if (history.part !== part) continue;
    for (const run of runs) {
      const looks = run.looks.filter((look) => look.wearMm !== null);
      yield {
        readingHours: looks.map((look) => look.hours),
        readingWearMm: looks.map((look) => look.wearMm!),
      };
    }
  }
}

function firstDay(exports: ReadExports): Day | null {
  const days =
    exports.wear && exports.wear.rows > 0 ? exports.wear.day : (exports.removals?.day ?? new Int32Array(0));
  let first: Day | null = null;
  for (const day of days) if (first === null || day < first) first = day;
  return first;
}

const unknownUsage = (component: number, run: LifeRun): Exclusion => ({
  component,
  reason: "its hours a day can't be known, nor the fleet's: no component has two looks",
  rows: [...run.looks.map((look) => look.row), ...(run.removal ? [run.removal.row] : [])],
});
