/**
 * Lives as a few columns in shared memory: a fleet's lives are some 300 bytes each, and another thread gets them without a
 * copy. `livesFrom` makes lives of them again, here or there.
 */
import { ENVIRONMENT_SOURCES, type GroupKey, LIFE_ENDS, type Life, ROW_KINDS } from "./life.ts";
import type { ReadingSums } from "./life-readings.ts";
import { growingBytes, growingFloats, growingInts, growingShorts } from "./shared-columns.ts";

/** Stands for null among days: no calendar has it. */
export const NO_DAY = -2_147_483_648;

/** Plain data, fit to be posted to a worker. One life is one row; rows of `readings…`, `looks…` and `row…` belong to it from its start to the next one's. */
export interface LifeColumns {
  readonly count: number;
  readonly groups: readonly GroupKey[];
  /** Aircraft, positions and failure modes. */
  readonly words: readonly string[];
  readonly component: Int32Array;
  readonly group: Int32Array;
  readonly life: Int32Array;
  readonly piece: Int32Array;
  readonly entryHours: Float64Array;
  readonly lowerHours: Float64Array;
  readonly upperHours: Float64Array;
  readonly observedFromHours: Float64Array;
  readonly lastHours: Float64Array;
  /** NaN: it did not fail in service by wear. */
  readonly functionalFailureHours: Float64Array;
  /** Numbers in LIFE_ENDS and ENVIRONMENT_SOURCES. */
  readonly end: Uint8Array;
  readonly environmentFrom: Uint8Array;
  /** Bits of FLAG. */
  readonly flags: Uint8Array;
  readonly aircraft: Int32Array;
  readonly position: Int32Array;
  /** -1: it went on. */
  readonly removalMode: Int32Array;
  /** NO_DAY in the last two: none. */
  readonly firstDay: Int32Array;
  readonly lastDay: Int32Array;
  readonly eventDay: Int32Array;
  readonly removedDay: Int32Array;
  /** One more than there are lives. */
  readonly readingStart: Int32Array;
  readonly readingHours: Float64Array;
  readonly readingWearMm: Float64Array;
  readonly readingDay: Int32Array;
  readonly lookStart: Int32Array;
  readonly lookHours: Float64Array;
  readonly lookDay: Int32Array;
  readonly rowStart: Int32Array;
  /** Number in ROW_KINDS. */
  readonly rowKind: Uint8Array;
  readonly rowFile: Uint16Array;
  readonly rowLine: Int32Array;
  /** Sums in place of readings, by life; null where no life has any. */
  readonly summed: readonly (ReadingSums | null)[] | null;
}

export const FLAG = { lateEntry: 1, inService: 2, noFaultFound: 4 } as const;

/** Puts lives into columns one by one. */
export class LifePacker {
  readonly #groups = new Numbered<GroupKey>(({ part, environment, standard }) =>
    JSON.stringify([part, environment, standard]),
  );
  readonly #words = new Numbered<string>((word) => word);
  readonly #ints = {
    ...{ component: growingInts(), group: growingInts(), life: growingInts(), piece: growingInts() },
    ...{ aircraft: growingInts(), position: growingInts(), removalMode: growingInts() },
    ...{
      firstDay: growingInts(),
      lastDay: growingInts(),
      eventDay: growingInts(),
      removedDay: growingInts(),
    },
    ...{ readingStart: growingInts(), lookStart: growingInts(), rowStart: growingInts() },
    ...{ readingDay: growingInts(), lookDay: growingInts(), rowLine: growingInts() },
  };
  readonly #floats = {
    ...{ entryHours: growingFloats(), lowerHours: growingFloats(), upperHours: growingFloats() },
    ...{ observedFromHours: growingFloats(), lastHours: growingFloats() },
    functionalFailureHours: growingFloats(),
    ...{ readingHours: growingFloats(), readingWearMm: growingFloats(), lookHours: growingFloats() },
  };
  readonly #bytes = {
    end: growingBytes(),
    environmentFrom: growingBytes(),
    flags: growingBytes(),
    rowKind: growingBytes(),
  };
  readonly #rowFile = growingShorts();
  readonly #summed: (ReadingSums | null)[] = [];

  add(life: Life): void {
    const { removal } = life;
    const ints = this.#ints;
    this.#startRows();
    ints.component.push(life.component);
    ints.group.push(this.#groups.numberOf(life.group));
    ints.life.push(life.life);
    ints.piece.push(life.piece);
    ints.aircraft.push(this.#words.numberOf(life.aircraft));
    ints.position.push(this.#words.numberOf(life.position));
    ints.removalMode.push(removal === null ? -1 : this.#words.numberOf(removal.mode));
    ints.firstDay.push(life.firstDay);
    ints.lastDay.push(life.lastDay);
    ints.eventDay.push(life.eventDay ?? NO_DAY);
    ints.removedDay.push(life.removedDay ?? NO_DAY);
    this.#bytes.end.push(LIFE_ENDS.indexOf(life.end));
    this.#bytes.environmentFrom.push(ENVIRONMENT_SOURCES.indexOf(life.environmentFrom));
    this.#bytes.flags.push(
      (life.lateEntry ? FLAG.lateEntry : 0) |
        (removal?.inService ? FLAG.inService : 0) |
        (removal?.noFaultFound ? FLAG.noFaultFound : 0),
    );
    this.#summed.push(life.summed ?? null);
    this.#addHours(life);
    this.#addRows(life);
  }

  #startRows(): void {
    this.#ints.readingStart.push(this.#floats.readingHours.length);
    this.#ints.lookStart.push(this.#floats.lookHours.length);
    this.#ints.rowStart.push(this.#rowFile.length);
  }

  #addHours(life: Life): void {
    const floats = this.#floats;
    floats.entryHours.push(life.entryHours);
    floats.lowerHours.push(life.lowerHours);
    floats.upperHours.push(life.upperHours);
    floats.observedFromHours.push(life.observedFromHours);
    floats.lastHours.push(life.lastHours);
    floats.functionalFailureHours.push(life.functionalFailureHours ?? Number.NaN);
  }

  #addRows({ readingHours, readingWearMm, readingDays, lookHours, lookDays, rows }: Life): void {
    for (let i = 0; i < readingHours.length; i++) {
      this.#floats.readingHours.push(readingHours[i]!);
      this.#floats.readingWearMm.push(readingWearMm[i]!);
      this.#ints.readingDay.push(readingDays[i]!);
    }
    for (let i = 0; i < lookHours.length; i++) {
      this.#floats.lookHours.push(lookHours[i]!);
      this.#ints.lookDay.push(lookDays[i]!);
    }
    for (const { kind, file, line } of rows) {
      this.#bytes.rowKind.push(ROW_KINDS.indexOf(kind));
      this.#rowFile.push(file);
      this.#ints.rowLine.push(line);
    }
  }

  /** The columns of all lives added; nothing can be added after. */
  take(): LifeColumns {
    const count = this.#summed.length;
    this.#startRows();
    return {
      count,
      groups: this.#groups.list,
      words: this.#words.list,
      ...taken(this.#ints),
      ...taken(this.#floats),
      ...taken(this.#bytes),
      rowFile: this.#rowFile.take(),
      summed: this.#summed.some((sums) => sums !== null) ? this.#summed : null,
    };
  }
}

/** Columns of any lives, to be handed to another thread. */
export function lifeColumns(lives: readonly Life[]): LifeColumns {
  const packer = new LifePacker();
  for (const life of lives) packer.add(life);
  return packer.take();
}

function taken<K extends string, T>(columns: Readonly<Record<K, { take(): T }>>): Record<K, T> {
  const entries = Object.entries<{ take(): T }>(columns).map(([name, column]) => [name, column.take()]);
  return Object.fromEntries(entries) as Record<K, T>;
}

/** Things numbered in the order in which they are first met; two with one key are one thing. */
class Numbered<T> {
  readonly list: T[] = [];
  readonly #byThing = new Map<T, number>();
  readonly #byKey = new Map<string, number>();
  readonly #keyOf: (thing: T) => string;

  constructor(keyOf: (thing: T) => string) {
    this.#keyOf = keyOf;
  }

  numberOf(thing: T): number {
    const known = this.#byThing.get(thing);
    if (known !== undefined) return known;
    const key = this.#keyOf(thing);
    let number = this.#byKey.get(key);
    if (number === undefined) {
      number = this.list.length;
      this.#byKey.set(key, number);
      this.list.push(thing);
    }
    this.#byThing.set(thing, number);
    return number;
  }
}
