/** Rows of the tables of lives and sums as lives, each cell checked. */
import { type Fleet, UNASSIGNED } from "../fleet/fleet.ts";
import { ExportError } from "../problems.ts";
import type { ReadExports } from "../records/exports.ts";
import { ENVIRONMENT_SOURCES, LIFE_ENDS, type Life, type LifeEnd } from "../records/life.ts";
import type { ReadingSums } from "../records/life-readings.ts";
import { SINGLE_STANDARD } from "../records/words.ts";
import { type Day, dayFromIso, isoDate } from "../units.ts";
import type { LastLook } from "./last-look-rows.ts";
import type { TableRow } from "./table-row.ts";

const KEY = ["part", "serial", "life", "piece"];
/** Columns that a table of sums must have. */
export const SUM_COLUMNS = [
  ...KEY,
  ...["readings", "mean_hours", "mean_wear_mm", "hours_squared", "hours_wear", "wear_squared"],
  ...["last_hours", "last_day", "last_wear_mm", "highest_wear_mm"],
];
/** Columns that a table of lives must have. */
export const LIFE_COLUMNS = [
  ...KEY,
  ...["environment", "standard", "entry_hours", "lower_hours", "upper_hours", "end", "late_entry"],
  ...[
    "observed_from_hours",
    "last_hours",
    "environment_from",
    "aircraft",
    "position",
    "first_day",
    "last_day",
  ],
  ...["event_day", "removed_day", "removal_mode", "removed_in_service", "no_fault_found"],
  ...["functional_failure_hours", "look_hours", "look_days", "looks_with_number"],
  ...["last_look_day", "last_look_hours", "last_look_over", "as_of"],
];

const EVENTS: ReadonlySet<LifeEnd> = new Set(LIFE_ENDS.slice(0, 4));

/** The sums of a piece, before its life says how many of its looks had a number. */
export type Sums = Omit<ReadingSums, "looksWithNumber">;

/** A piece of a life, in words: the key of both tables. */
export const keyOf = (row: TableRow): string =>
  `${row.text("part")} ${row.text("serial")}, life ${row.text("life")}, piece ${row.text("piece")}`;

/** The sums of a row. */
export function sumsOf(row: TableRow): Sums {
  return {
    count: row.count("readings", 1),
    meanHours: row.number("mean_hours"),
    meanWearMm: row.number("mean_wear_mm"),
    hoursSquared: notNegative(row, "hours_squared"),
    hoursWear: row.number("hours_wear"),
    wearSquared: notNegative(row, "wear_squared"),
    lastHours: notNegative(row, "last_hours"),
    lastDay: row.day("last_day"),
    lastWearMm: row.number("last_wear_mm"),
    highestWearMm: row.number("highest_wear_mm"),
  };
}

function notNegative(row: TableRow, column: string): number {
  const value = row.number(column);
  return value >= 0 ? value : row.refuse(column, "no negative number");
}

/** Rows of the table of lives as lives, with the numbers that components have in the exports read beside it. */
export class LivesFromTables {
  readonly #fleet: Fleet;
  readonly #sums: Map<string, Sums>;
  readonly #number = new Map<string, number>();
  readonly #part: number[];
  readonly #serial: string[];
  readonly #lives: Life[] = [];
  readonly #lastLooks = new Map<number, LastLook & { readonly life: number; readonly piece: number }>();
  readonly #seen = new Set<string>();
  readonly #environments: readonly string[];
  readonly #standards: readonly string[];
  #asOf: Day | null = null;

  constructor(fleet: Fleet, { components }: ReadExports, sums: Map<string, Sums>) {
    this.#fleet = fleet;
    this.#sums = sums;
    this.#part = [...components.part];
    this.#serial = [...components.serial];
    for (const [i, serial] of this.#serial.entries())
      this.#number.set(JSON.stringify([this.#part[i], serial]), i);
    const { environments, standards } = fleet.words;
    this.#environments = [...new Set(environments.values()), UNASSIGNED];
    this.#standards = standards.size === 0 ? [SINGLE_STANDARD] : [...new Set(standards.values()), UNASSIGNED];
  }

  take(row: TableRow, file: number): void {
    const key = keyOf(row);
    if (this.#seen.has(key)) row.refuse(null, "each piece of a life once", key);
    this.#seen.add(key);
    const asOf = row.day("as_of");
    if (this.#asOf !== null && asOf !== this.#asOf)
      row.refuse("as_of", `${isoDate(this.#asOf)}, as in the rows before`);
    this.#asOf = asOf;
    const component = this.#componentOf(row);
    const sums = this.#sums.get(key);
    this.#sums.delete(key);
    const life = this.#lifeOf(row, component, file, sums);
    this.#lives.push(life);
    const known = this.#lastLooks.get(component);
    const look = lastLookOf(row, life, file, sums);
    if (look !== null && (known === undefined || look.day >= known.day)) {
      this.#lastLooks.set(component, { ...look, life: life.life, piece: life.piece });
    }
  }

  done(patterns: readonly string[]): { lives: readonly Life[]; lastLooks: readonly LastLook[]; asOf: Day } {
    if (this.#asOf === null)
      throw new ExportError(
        "E-TABLE",
        `${patterns.join(", ")}: expected at least one life, got a table without rows`,
      );
    this.#lives.sort((a, b) => a.component - b.component || a.life - b.life || a.piece - b.piece);
    const lastLooks = [...this.#lastLooks].sort(([a], [b]) => a - b).map(([, look]) => look);
    return { lives: this.#lives, lastLooks, asOf: this.#asOf };
  }

  components(): ReadExports["components"] {
    return { count: this.#serial.length, part: Int32Array.from(this.#part), serial: this.#serial };
  }

  #componentOf(row: TableRow): number {
    const parts = this.#fleet.parts.map(({ part }) => part);
    const part = parts.indexOf(row.word("part", parts));
    const serial = row.text("serial");
    if (serial === "") row.refuse("serial", "a serial");
    const key = JSON.stringify([part, serial]);
    const known = this.#number.get(key);
    if (known !== undefined) return known;
    this.#number.set(key, this.#serial.length);
    this.#part.push(part);
    this.#serial.push(serial);
    return this.#serial.length - 1;
  }

  #lifeOf(row: TableRow, component: number, file: number, sums: Sums | undefined): Life {
    const environment = row.word("environment", this.#environments);
    const standard = row.word("standard", this.#standards);
    const end = row.word("end", LIFE_ENDS);
    const mode = row.text("removal_mode");
    const lookDays = row.words("look_days").map((day) => dayFromIso(day) ?? row.refuse("look_days", "days"));
    const lookHours = row.words("look_hours").map(Number);
    if (lookHours.length !== lookDays.length || !lookHours.every(Number.isFinite))
      row.refuse("look_hours", `hours of the ${lookDays.length} looks in look_days`);
    const looksWithNumber = row.count("looks_with_number", 0);
    return {
      component,
      group: { part: row.text("part"), environment, standard },
      life: row.count("life", 1),
      piece: row.count("piece", 1),
      ...spanOf(row, end),
      end,
      lateEntry: row.flag("late_entry"),
      observedFromHours: notNegative(row, "observed_from_hours"),
      lastHours: notNegative(row, "last_hours"),
      environmentFrom: row.word("environment_from", ENVIRONMENT_SOURCES),
      aircraft: row.text("aircraft"),
      position: row.text("position"),
      firstDay: row.day("first_day"),
      lastDay: row.day("last_day"),
      removedDay: row.dayOrNull("removed_day"),
      removal:
        mode === ""
          ? null
          : { mode, inService: row.flag("removed_in_service"), noFaultFound: row.flag("no_fault_found") },
      functionalFailureHours: row.numberOrNull("functional_failure_hours"),
      readingHours: [],
      readingWearMm: [],
      readingDays: [],
      ...(sums && { summed: { ...sums, looksWithNumber } }),
      lookHours,
      lookDays,
      rows: [{ kind: "lives", file, line: row.line }],
    };
  }
}

/** Entry, and what is known of the event; hours in order, and an event where the end is one. */
function spanOf(
  row: TableRow,
  end: LifeEnd,
): Pick<Life, "entryHours" | "lowerHours" | "upperHours" | "eventDay"> {
  const entryHours = notNegative(row, "entry_hours");
  const lowerHours = row.number("lower_hours");
  if (lowerHours < entryHours) row.refuse("lower_hours", `hours from the entry, ${entryHours}`);
  const upper = row.numberOrNull("upper_hours");
  const eventDay = row.dayOrNull("event_day");
  if (EVENTS.has(end) !== (upper !== null))
    row.refuse(
      "upper_hours",
      EVENTS.has(end) ? `hours, where the end is "${end}"` : `nothing, where the end is "${end}"`,
    );
  if ((upper !== null) !== (eventDay !== null))
    row.refuse("event_day", "a day where there is an event, and nothing else");
  if (upper !== null && upper < lowerHours)
    row.refuse("upper_hours", `hours from lower_hours, ${lowerHours}`);
  return { entryHours, lowerHours, upperHours: upper ?? Number.POSITIVE_INFINITY, eventDay };
}

/** The last look of a piece; null where it has none. */
function lastLookOf(row: TableRow, life: Life, file: number, sums: Sums | undefined): LastLook | null {
  const day = row.dayOrNull("last_look_day");
  if (day === null) return null;
  const hours = row.number("last_look_hours");
  const withNumber = sums !== undefined && sums.lastDay === day && sums.lastHours === hours;
  return {
    component: life.component,
    day,
    hours,
    wearMm: withNumber ? sums.lastWearMm : null,
    over: row.flag("last_look_over"),
    aircraft: life.aircraft,
    position: life.position,
    environment: life.group.environment,
    standard: life.group.standard,
    file,
    line: row.line,
  };
}
