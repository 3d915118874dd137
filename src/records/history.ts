/**
 * The history of each component: its looks and removals up to the as-of day, in order, with hours on the life's clock.
 */
import type { Day } from "../units.ts";
import {
  FINDING,
  FOUND_AT,
  LOOK,
  type ReadExports,
  type RemovalRows,
  type WearRows,
  wordAt,
} from "./exports.ts";
import type { FittingIndex } from "./fittings.ts";
import type { RowRef } from "./life.ts";
import { rowsInOrder } from "./rows-in-order.ts";
import { standardAt } from "./standard.ts";
import { UNASSIGNED } from "./words.ts";

interface Event {
  readonly day: Day;
  /** On the life's clock; NaN where they can't be known. */
  readonly hours: number;
  readonly aircraft: string;
  readonly position: string;
  readonly environment: string;
  readonly standard: string;
  readonly row: RowRef;
}

export interface Look extends Event {
  readonly kind: "look";
  /** null where the look has words only. */
  readonly wearMm: number | null;
  /** In words: over limit. Numbers are compared with the limit by whoever knows it. */
  readonly overInWords: boolean;
}

export interface Removal extends Event {
  readonly kind: "removal";
  readonly mode: string;
  readonly inService: boolean;
  readonly noFaultFound: boolean;
}

export interface History {
  readonly component: number;
  readonly part: number;
  readonly events: readonly (Look | Removal)[];
}

/**
 * Reads the history of one component at a time: its looks and removals on or before `asOf`; null where it has none.
 * Hours counted on the airframe are converted by the fittings; where there is none they are NaN.
 */
export function historyReader(
  exports: ReadExports,
  asOf: Day,
  fittings: FittingIndex,
  airframeClock: boolean,
): (component: number) => History | null {
  const { wear, removals, components } = exports;
  const none = { start: new Int32Array(components.count + 1), order: new Int32Array(0) };
  const looks = wear ? rowsInOrder(wear, components.count) : none;
  const offs = removals ? rowsInOrder(removals, components.count) : none;
  const onLifeClock = (component: number, { day, hours, aircraft, kind }: Look | Removal): number =>
    fittings.sinceFitted(component, { day, airframeHours: hours, aircraft, isRemoval: kind === "removal" });
  return (component) => {
    const events: (LookRow | RemovalRow)[] = [];
    for (let i = looks.start[component]!; i < looks.start[component + 1]!; i++) {
      const row = looks.order[i]!;
      if (wear!.day[row]! > asOf) break;
      // A look that says neither a number nor a known word proves nothing, neither good nor over: the ledger has it.
      if (wear!.look[row] !== LOOK.unknown) events.push(new LookRow(wear!, row));
    }
    const lookCount = events.length;
    for (let i = offs.start[component]!; i < offs.start[component + 1]!; i++) {
      const row = offs.order[i]!;
      if (removals!.day[row]! > asOf) break;
      events.push(new RemovalRow(removals!, row));
    }
    if (events.length === 0) return null;
    if (airframeClock) for (const event of events) event.hours = onLifeClock(component, event);
    // Airframes differ in hours, so that looks ordered by day and recorded hours may be out of order on a day.
    if (airframeClock || events.length > lookCount) events.sort(inOrder);
    return { component, part: components.part[component]!, events };
  };
}

/** Histories of all components with at least one look or removal on or before `asOf`, in component order. */
export function* histories(
  exports: ReadExports,
  asOf: Day,
  fittings: FittingIndex,
  airframeClock: boolean,
): Generator<History> {
  const read = historyReader(exports, asOf, fittings, airframeClock);
  for (let component = 0; component < exports.components.count; component++) {
    const history = read(component);
    if (history !== null) yield history;
  }
}

/** By day, then hours; a look comes before the removal that it led to, also where that is recorded at fewer hours. */
function inOrder(a: Look | Removal, b: Look | Removal): number {
  if (a.day !== b.day) return a.day - b.day;
  if (a.kind !== b.kind && ofOneDay(a, b)) return a.kind === "look" ? -1 : 1;
  if (Math.abs(a.hours - b.hours) > 1) return a.hours - b.hours;
  return a.kind === b.kind ? a.hours - b.hours || 0 : a.kind === "look" ? -1 : 1;
}

/** A look and a removal of one day on one aircraft: no more hours apart than a day has. */
const ofOneDay = (a: Look | Removal, b: Look | Removal): boolean =>
  Math.abs(a.hours - b.hours) <= 24 && (a.aircraft === b.aircraft || a.aircraft === "" || b.aircraft === "");

/** What a row of either export records; its words are looked up where they are asked for, which is seldom. */
abstract class RecordedRow<Rows extends WearRows | RemovalRows> {
  readonly day: Day;
  hours: number;
  protected readonly rows: Rows;
  protected readonly at: number;

  constructor(rows: Rows, row: number) {
    this.day = rows.day[row]!;
    this.hours = rows.hours[row]!;
    this.rows = rows;
    this.at = row;
  }

  abstract readonly kind: "look" | "removal";

  get aircraft(): string {
    return wordAt(this.rows.aircraft, this.at) ?? "";
  }
  get position(): string {
    return wordAt(this.rows.position, this.at) ?? "";
  }
  get environment(): string {
    return wordAt(this.rows.environment, this.at) ?? UNASSIGNED;
  }
  get standard(): string {
    return standardAt(this.rows.standard, this.at);
  }
  get row(): RowRef {
    const kind = this.kind === "look" ? "wear" : "removals";
    return { kind, file: this.rows.file[this.at]!, line: this.rows.line[this.at]! };
  }
}

class LookRow extends RecordedRow<WearRows> implements Look {
  readonly kind = "look";
  readonly wearMm: number | null;

  constructor(rows: WearRows, row: number) {
    super(rows, row);
    this.wearMm = rows.look[row] === LOOK.number ? rows.wearMm[row]! : null;
  }

  get overInWords(): boolean {
    return this.rows.look[this.at] === LOOK.overLimit;
  }
}

class RemovalRow extends RecordedRow<RemovalRows> implements Removal {
  readonly kind = "removal";

  get mode(): string {
    return wordAt(this.rows.mode, this.at) ?? UNASSIGNED;
  }
  get inService(): boolean {
    return this.rows.found[this.at] === FOUND_AT.service;
  }
  get noFaultFound(): boolean {
    return this.rows.finding[this.at] === FINDING.noFaultFound;
  }
}
