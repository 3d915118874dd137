/**
 * Failures in service by wear, from the removal rows themselves: they count whatever became of the lives that they ended.
 * Beside them the removals of the last 24 months that leave open whether they were such failures.
 */

import { countsAirframeHours } from "../fleet/clock.ts";
import type { Fleet } from "../fleet/fleet.ts";
import { FINDING, FOUND_AT, NO_DAY, type ReadExports, type RemovalRows, wordAt } from "../records/exports.ts";
import { indexFittings } from "../records/fittings.ts";
import { indexFlown } from "../records/flown.ts";
import { type GroupKey, type Life, sameGroup } from "../records/life.ts";
import { environmentOfHours } from "../records/lives.ts";
import { standardAt } from "../records/standard.ts";
import { UNASSIGNED, WEAR_MODE } from "../records/words.ts";
import { addMonths, type Day } from "../units.ts";

/** A removal that was a failure in service, or may have been one. */
interface RecordedRemoval {
  /** -1: not known. */
  readonly component: number;
  /** Where the component was; "unassigned" for what isn't known. */
  readonly group: GroupKey;
  readonly day: Day;
  /** FILE:LINE */
  readonly source: string;
}

/** A removal of the last 24 months that leaves open whether it was a failure in service. */
export interface OpenRemoval extends Pick<RecordedRemoval, "group" | "source"> {
  /** Why it is open. */
  readonly why: string;
}

/** All groups' failures: plain data, so that it can go to another thread. */
export interface FailureRecord {
  readonly failures: readonly RecordedRemoval[];
  readonly open: readonly OpenRemoval[];
  /** Why the exports can't show a failure at all; null where they can. */
  readonly lacks: string | null;
}

/** One group's share of it. */
export interface FailuresInGroup {
  readonly failures: number;
  readonly inLast24Months: number;
  readonly open: readonly OpenRemoval[];
  readonly lacks: string | null;
}

const MONTHS = 24;
const NO_GROUP: GroupKey = { part: UNASSIGNED, environment: UNASSIGNED, standard: UNASSIGNED };

/** Failures and open removals of all groups up to the as-of day. */
export function failureRecord(
  fleet: Fleet,
  exports: ReadExports,
  lives: readonly Life[],
  asOf: Day,
): FailureRecord {
  const { removals, setAside } = exports;
  const from = addMonths(asOf, -MONTHS);
  const accepted = removals === null ? [] : worthAsking(removals, asOf);
  const aside = setAside.removals === null ? [] : worthAsking(setAside.removals, asOf);
  const groupOf = groupFinder(fleet, exports, lives, asOf);
  const at = ({ file, line }: { readonly file: number; readonly line: number }) =>
    `${exports.files[file]!.file}:${line}`;
  const recorded = (rows: RemovalRows, row: number): RecordedRemoval => ({
    component: rows.component[row]!,
    group: groupOf(rows, row),
    day: rows.day[row]!,
    source: at({ file: rows.file[row]!, line: rows.line[row]! }),
  });
  const open: OpenRemoval[] = [];
  const failures: RecordedRemoval[] = [];
  for (const row of accepted) {
    const why = doubtOf(removals!, row);
    if (why === null) failures.push(recorded(removals!, row));
    else if (removals!.day[row]! > from) open.push({ ...placed(recorded(removals!, row)), why });
  }
  for (const row of aside) {
    if (latestDayOf(setAside.removals!, row) <= from) continue;
    const why =
      setAside.removals!.component[row]! < 0
        ? "its part number or serial is missing or not in the fleet file"
        : "the row was rejected";
    open.push({ ...placed(recorded(setAside.removals!, row)), why });
  }
  for (const line of setAside.unreadRemovals)
    if (line.exported === NO_DAY || line.exported > from)
      open.push({ group: NO_GROUP, source: at(line), why: "the line can't be read" });
  if (fleet.tables !== undefined) failures.push(...failuresOfTables(exports, lives, failures));
  return { failures, open, lacks: lacking(fleet) };
}

const placed = ({ group, source }: RecordedRemoval) => ({ group, source });

/** What the exports lack, so that no failure in service could be seen in them. */
function lacking({ exports, tables }: Fleet): string | null {
  if (exports.removals === undefined)
    // Tables of lives say themselves how each life ended.
    return tables === undefined ? "no removals are exported" : null;
  return exports.removals.columns.found === undefined
    ? "the removals export has no column that says where a removal came to light (`found` in the fleet file)"
    : null;
}

/** Rows up to the as-of day but those whose readable words show that they were no failure in service by wear. */
function worthAsking(rows: RemovalRows, asOf: Day): number[] {
  const asked: number[] = [];
  for (let row = 0; row < rows.rows; row++) {
    if (rows.day[row]! > asOf || rows.found[row] === FOUND_AT.inspection) continue;
    if (rows.finding[row] === FINDING.noFaultFound) continue;
    const mode = wordAt(rows.mode, row) ?? UNASSIGNED;
    if (mode === WEAR_MODE || mode === UNASSIGNED) asked.push(row);
  }
  return asked;
}

/** Why it is open whether an accepted row was a failure; null: it was. */
function doubtOf(rows: RemovalRows, row: number): string | null {
  if (wordAt(rows.mode, row) !== WEAR_MODE) {
    const cause = wordAt(rows.cause, row);
    return cause === null ? "it records no cause" : `its cause, ${cause}, is not in the fleet file`;
  }
  return rows.found[row] === FOUND_AT.service
    ? null
    : "where it came to light is not recorded, or in a word that is not in the fleet file";
}

/** The row's day; where that can't be read, the day by which it was exported, and where that is unknown any day. */
function latestDayOf(rows: RemovalRows, row: number): Day {
  if (rows.day[row] !== NO_DAY) return rows.day[row]!;
  return rows.exported[row] === NO_DAY ? Number.POSITIVE_INFINITY : rows.exported[row]!;
}

/** Failures that a table of lives tells of, and no removal row. */
function failuresOfTables(
  { files }: ReadExports,
  lives: readonly Life[],
  byRows: readonly RecordedRemoval[],
): RecordedRemoval[] {
  const isKnown = ({ component, removedDay }: Life) =>
    byRows.some((row) => row.component === component && row.day === removedDay);
  return lives
    .filter((life) => life.functionalFailureHours !== null && !isKnown(life))
    .map(({ component, group, removedDay, lastDay, rows: [row] }) => ({
      ...{ component, group },
      day: removedDay ?? lastDay,
      source: row === undefined ? "" : `${files[row.file]!.file}:${row.line}`,
    }));
}

/**
 * The group in which a component was when a row says that it was taken off: that of the life it ended; else by its own
 * aircraft, base and standard, and what those leave open by the component's lives up to then.
 */
function groupFinder(
  fleet: Fleet,
  exports: ReadExports,
  lives: readonly Life[],
  asOf: Day,
): (rows: RemovalRows, row: number) => GroupKey {
  const livesOf = livesByComponent(lives);
  let indexes: { flown: ReturnType<typeof indexFlown>; fittings: ReturnType<typeof indexFittings> } | null =
    null;
  return (rows, row) => {
    const component = rows.component[row]!;
    const day = rows.day[row]!;
    const own = component < 0 ? [] : livesOf(component);
    const ended = own.find(({ removedDay }) => removedDay === day);
    if (ended !== undefined) return ended.group;
    indexes ??= {
      flown: indexFlown(exports),
      fittings: indexFittings(exports, asOf, countsAirframeHours(fleet)),
    };
    const said = {
      ...{ day, aircraft: wordAt(rows.aircraft, row) ?? "" },
      environment: wordAt(rows.environment, row) ?? UNASSIGNED,
    };
    const { environment } = environmentOfHours(said, day, component, indexes.flown, indexes.fittings);
    const standard = standardAt(rows.standard, row);
    const before = own.findLast(({ firstDay }) => firstDay <= day) ?? own[0];
    return {
      part: component < 0 ? UNASSIGNED : fleet.parts[exports.components.part[component]!]!.part,
      environment: environment === UNASSIGNED ? (before?.group.environment ?? UNASSIGNED) : environment,
      standard: standard === UNASSIGNED ? (before?.group.standard ?? UNASSIGNED) : standard,
    };
  };
}

/** Lives of a component, which stand side by side. Few components are asked about. */
function livesByComponent(lives: readonly Life[]): (component: number) => readonly Life[] {
  let first: Map<number, number> | null = null;
  return (component) => {
    if (first === null) {
      first = new Map();
      for (const [at, life] of lives.entries()) if (!first.has(life.component)) first.set(life.component, at);
    }
    const start = first.get(component);
    if (start === undefined) return [];
    let end = start;
    while (lives[end]?.component === component) end++;
    return lives.slice(start, end);
  };
}

/** What of the record is, or may be, of one group. */
export function failuresIn(
  { failures, open, lacks }: FailureRecord,
  key: GroupKey,
  asOf: Day,
): FailuresInGroup {
  const from = addMonths(asOf, -MONTHS);
  const own = failures.filter(({ group }) => sameGroup(group, key));
  const unplaced = failures.filter(
    ({ group, day }) => day > from && !sameGroup(group, key) && mayBe(group, key),
  );
  return {
    failures: own.length,
    inLast24Months: own.filter(({ day }) => day > from).length,
    open: [
      ...open.filter(({ group }) => mayBe(group, key)),
      ...unplaced.map((failure) => ({ ...placed(failure), why: "it is a failure, in a group not known" })),
    ],
    lacks,
  };
}

const mayBe = (group: GroupKey, key: GroupKey): boolean =>
  (["part", "environment", "standard"] as const).every(
    (what) => group[what] === UNASSIGNED || group[what] === key[what],
  );
