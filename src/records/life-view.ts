/** Lives read from their columns. */
import { ENVIRONMENT_SOURCES, type GroupKey, LIFE_ENDS, type Life, ROW_KINDS, type RowRef } from "./life.ts";
import { FLAG, type LifeColumns, lifeColumns, NO_DAY } from "./life-columns.ts";

/**
 * The lives of columns, in their order. A life is a place in the columns and nothing more: its lists are made anew each time
 * they are asked for, so whoever goes through one keeps it; `{ ...life }` has nothing of it, `plainLife(life)` has all.
 */
export const livesFrom = (columns: LifeColumns): Life[] =>
  Array.from({ length: columns.count }, (_, at) => new LifeInColumns(columns, at));

/** Some lives as their places in columns: plain data, fit to be posted to a worker, and no copy where they lie in columns. */
export interface LifePlaces {
  readonly columns: LifeColumns;
  readonly places: Int32Array;
}

/** Where lives are: in the columns that they share, or else in columns made for them. */
export function placesOf(lives: readonly Life[]): LifePlaces {
  const [first] = lives;
  if (first instanceof LifeInColumns) {
    const shared = first.placesWith(lives);
    if (shared !== null) return shared;
  }
  return { columns: lifeColumns(lives), places: Int32Array.from(lives, (_, at) => at) };
}

/** The lives at their places again, here or in another thread. */
export const livesAt = ({ columns, places }: LifePlaces): Life[] =>
  Array.from(places, (at) => new LifeInColumns(columns, at));

/** True of a life that `livesFrom` made. */
export const isInColumns = (thing: unknown): thing is Life => thing instanceof LifeInColumns;

/**
 * The same lives with every text changed: names of groups, aircraft, positions, modes. Those in columns share all but the
 * texts with the ones given.
 */
export function withTexts(lives: readonly Life[], change: (text: string) => string): Life[] {
  const changed = new Map<LifeColumns, LifeColumns>();
  const groupOf = ({ part, environment, standard }: GroupKey): GroupKey => ({
    part: change(part),
    environment: change(environment),
    standard: change(standard),
  });
  const columnsOf = (columns: LifeColumns): LifeColumns => {
    const known = changed.get(columns);
    if (known !== undefined) return known;
    const made = { ...columns, words: columns.words.map(change), groups: columns.groups.map(groupOf) };
    changed.set(columns, made);
    return made;
  };
  return lives.map((life) => {
    if (life instanceof LifeInColumns) return life.in(columnsOf);
    const { group, aircraft, position, removal } = life;
    return {
      ...life,
      group: groupOf(group),
      aircraft: change(aircraft),
      position: change(position),
      removal: removal && { ...removal, mode: change(removal.mode) },
    };
  });
}

/** A life by itself, for a changed copy of it. */
export function plainLife(life: Life): Life {
  const plain = {
    ...{ component: life.component, group: life.group, life: life.life, piece: life.piece },
    ...{
      entryHours: life.entryHours,
      lowerHours: life.lowerHours,
      upperHours: life.upperHours,
      end: life.end,
    },
    ...{ lateEntry: life.lateEntry, observedFromHours: life.observedFromHours, lastHours: life.lastHours },
    ...{ environmentFrom: life.environmentFrom, aircraft: life.aircraft, position: life.position },
    ...{
      firstDay: life.firstDay,
      lastDay: life.lastDay,
      eventDay: life.eventDay,
      removedDay: life.removedDay,
    },
    ...{ removal: life.removal, functionalFailureHours: life.functionalFailureHours },
    readingHours: life.readingHours,
    readingWearMm: life.readingWearMm,
    readingDays: life.readingDays,
    lookHours: life.lookHours,
    lookDays: life.lookDays,
    rows: life.rows,
  };
  return life.summed === undefined ? plain : { ...plain, summed: life.summed };
}

class LifeInColumns implements Life {
  readonly #columns: LifeColumns;
  readonly #at: number;

  constructor(columns: LifeColumns, at: number) {
    this.#columns = columns;
    this.#at = at;
  }

  /** Places of lives that all lie in the columns of this one; null where one doesn't. */
  placesWith(lives: readonly Life[]): LifePlaces | null {
    const places = new Int32Array(lives.length);
    for (let i = 0; i < places.length; i++) {
      const life = lives[i]!;
      if (!(life instanceof LifeInColumns) || life.#columns !== this.#columns) return null;
      places[i] = life.#at;
    }
    return { columns: this.#columns, places };
  }

  /** This life in other columns of the same lives. */
  in(columnsOf: (columns: LifeColumns) => LifeColumns): Life {
    return new LifeInColumns(columnsOf(this.#columns), this.#at);
  }

  get component(): number {
    return this.#columns.component[this.#at]!;
  }
  get group(): GroupKey {
    return this.#columns.groups[this.#columns.group[this.#at]!]!;
  }
  get life(): number {
    return this.#columns.life[this.#at]!;
  }
  get piece(): number {
    return this.#columns.piece[this.#at]!;
  }
  get entryHours(): number {
    return this.#columns.entryHours[this.#at]!;
  }
  get lowerHours(): number {
    return this.#columns.lowerHours[this.#at]!;
  }
  get upperHours(): number {
    return this.#columns.upperHours[this.#at]!;
  }
  get end(): Life["end"] {
    return LIFE_ENDS[this.#columns.end[this.#at]!]!;
  }
  get lateEntry(): boolean {
    return this.#has(FLAG.lateEntry);
  }
  get observedFromHours(): number {
    return this.#columns.observedFromHours[this.#at]!;
  }
  get lastHours(): number {
    return this.#columns.lastHours[this.#at]!;
  }
  get environmentFrom(): Life["environmentFrom"] {
    return ENVIRONMENT_SOURCES[this.#columns.environmentFrom[this.#at]!]!;
  }
  get aircraft(): string {
    return this.#columns.words[this.#columns.aircraft[this.#at]!]!;
  }
  get position(): string {
    return this.#columns.words[this.#columns.position[this.#at]!]!;
  }
  get firstDay(): number {
    return this.#columns.firstDay[this.#at]!;
  }
  get lastDay(): number {
    return this.#columns.lastDay[this.#at]!;
  }
  get eventDay(): number | null {
    return orNull(this.#columns.eventDay[this.#at]!);
  }
  get removedDay(): number | null {
    return orNull(this.#columns.removedDay[this.#at]!);
  }
  get removal(): Life["removal"] {
    const mode = this.#columns.removalMode[this.#at]!;
    if (mode < 0) return null;
    return {
      mode: this.#columns.words[mode]!,
      inService: this.#has(FLAG.inService),
      noFaultFound: this.#has(FLAG.noFaultFound),
    };
  }
  get functionalFailureHours(): number | null {
    const hours = this.#columns.functionalFailureHours[this.#at]!;
    return Number.isNaN(hours) ? null : hours;
  }
  get readingHours(): readonly number[] {
    return this.#part(this.#columns.readingHours, this.#columns.readingStart);
  }
  get readingWearMm(): readonly number[] {
    return this.#part(this.#columns.readingWearMm, this.#columns.readingStart);
  }
  get readingDays(): readonly number[] {
    return this.#part(this.#columns.readingDay, this.#columns.readingStart);
  }
  get lookHours(): readonly number[] {
    return this.#part(this.#columns.lookHours, this.#columns.lookStart);
  }
  get lookDays(): readonly number[] {
    return this.#part(this.#columns.lookDay, this.#columns.lookStart);
  }
  get rows(): readonly RowRef[] {
    const { rowStart, rowKind, rowFile, rowLine } = this.#columns;
    const rows: RowRef[] = [];
    for (let i = rowStart[this.#at]!; i < rowStart[this.#at + 1]!; i++)
      rows.push({ kind: ROW_KINDS[rowKind[i]!]!, file: rowFile[i]!, line: rowLine[i]! });
    return rows;
  }
  get summed(): NonNullable<Life["summed"]> | undefined {
    return this.#columns.summed?.[this.#at] ?? undefined;
  }

  #has(flag: number): boolean {
    return (this.#columns.flags[this.#at]! & flag) !== 0;
  }

  #part(values: Float64Array | Int32Array, start: Int32Array): number[] {
    const from = start[this.#at]!;
    const part = new Array<number>(start[this.#at + 1]! - from);
    for (let i = 0; i < part.length; i++) part[i] = values[from + i]!;
    return part;
  }
}

const orNull = (day: number): number | null => (day === NO_DAY ? null : day);
