/** One row of a table that a program wrote, with its cells as what their columns hold. */
import { ExportError } from "../problems.ts";
import { type Day, dayFromIso } from "../units.ts";

export class TableRow {
  readonly file: string;
  /** Physical line of a CSV, from 1; number of the row in an Arrow file. */
  readonly line: number;
  readonly #places: ReadonlyMap<string, number>;
  readonly #cell: (place: number) => unknown;

  constructor(
    file: string,
    line: number,
    places: ReadonlyMap<string, number>,
    cell: (place: number) => unknown,
  ) {
    this.file = file;
    this.line = line;
    this.#places = places;
    this.#cell = cell;
  }

  #value(column: string): unknown {
    const value = this.#cell(this.#places.get(column)!);
    if (value === "" || value === undefined) return null;
    return value instanceof Date ? value.toISOString().slice(0, 10) : value;
  }

  /** Always throws: the cell (or the row as a whole, column null) is not what it has to be. */
  refuse(
    column: string | null,
    expected: string,
    found: unknown = column === null ? null : this.#value(column),
  ): never {
    const where = `${this.file}:${this.line}${column === null ? "" : ` ${column}`}`;
    const shown = found === null ? "an empty cell" : JSON.stringify(String(found));
    throw new ExportError("E-TABLE", `${where}: expected ${expected}, got ${shown}; nothing was published`);
  }

  /** "" where the cell is empty. */
  text(column: string): string {
    const value = this.#value(column);
    return value === null ? "" : String(value);
  }

  /** One of the words. */
  word<T extends string>(column: string, words: readonly T[]): T {
    const value = this.text(column);
    const known = words.find((word) => word === value);
    return known ?? this.refuse(column, `one of ${words.join(", ")}`);
  }

  /** null where the cell is empty. */
  numberOrNull(column: string): number | null {
    const value = this.#value(column);
    if (value === null) return null;
    const number = typeof value === "string" ? numberOf(value) : Number(value);
    return Number.isFinite(number) ? number : this.refuse(column, "a number with a decimal point");
  }

  number(column: string): number {
    return this.numberOrNull(column) ?? this.refuse(column, "a number");
  }

  /** A whole number of at least `least`. */
  count(column: string, least: number): number {
    const value = this.number(column);
    return Number.isInteger(value) && value >= least
      ? value
      : this.refuse(column, `a whole number from ${least}`);
  }

  dayOrNull(column: string): Day | null {
    const value = this.#value(column);
    if (value === null) return null;
    // Some programs write a time of midnight behind the day.
    return (
      dayFromIso(String(value).replace(/[ T]00:00:00(\.0+)?$/, "")) ??
      this.refuse(column, "a day as YYYY-MM-DD")
    );
  }

  day(column: string): Day {
    return this.dayOrNull(column) ?? this.refuse(column, "a day as YYYY-MM-DD");
  }

  flag(column: string): boolean {
    const value = this.#value(column);
    if (value === true || value === "true") return true;
    if (value === false || value === "false") return false;
    return this.refuse(column, "true or false");
  }

  /** Words with spaces between, none where the cell is empty; an Arrow list as well. */
  words(column: string): string[] {
    const value = this.#value(column);
    if (value === null) return [];
    if (typeof value === "string") return value.split(" ").filter((word) => word !== "");
    return Symbol.iterator in Object(value)
      ? Array.from(value as Iterable<unknown>, (one) =>
          one instanceof Date ? one.toISOString().slice(0, 10) : String(one),
        )
      : this.refuse(column, "a list");
  }
}

/** A number as programs write them: digits, a point, an exponent; NaN for anything else. */
const numberOf = (text: string): number =>
  /^[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?$/.test(text) ? Number(text) : Number.NaN;
