/** What each distinct text of a column becomes, worked out once per text however many rows hold it. */
import type { FleetWords } from "../fleet/fleet.ts";
import type { RowProblem } from "../problems.ts";
import { LOOK } from "../records/exports.ts";
import { dayOf, MM_PER } from "../units.ts";
import type { ColumnPlan } from "./kinds.ts";
import { type DateOrder, type DateReading, monthStart } from "./parse-date.ts";
import { parseLength } from "./parse-length.ts";
import { type Decimal, parseHours } from "./parse-number.ts";

export const CELL = { ok: 0, bad: 1, unknownWord: 2 } as const;

/** Units by number, for columns that hold a unit per row; -1 is "the cell doesn't say". */
export const UNIT_NUMBERS = ["mm", "um", "in", "thou"] as const;

export interface CodeTable {
  readonly status: Uint8Array;
  /** The value where status is not bad: a number as written, a day, or a code of words. */
  readonly value: Float64Array;
  /** Length columns only: number of the cell's own unit, or -1; and what kind of look it is. */
  readonly unit: Int8Array | null;
  readonly look: Uint8Array | null;
}

/** Why a cell is refused: what a RowProblem says beyond its place. */
export type CellFault = Pick<RowProblem, "code" | "expected" | "hint">;

export interface CellContext {
  readonly decimal: Decimal;
  readonly order: DateOrder;
  readonly readDate: (text: string) => DateReading;
  readonly wearWords: FleetWords["wearWords"];
}

/** Hours of more than 20 years of flying round the clock are none. */
const MOST_HOURS = 200_000;
/** Exports of rotor heads hold dates of this span. */
const FIRST_YEAR = 1950;
const LAST_YEAR = 2100;
const FIRST_DAY = dayOf(FIRST_YEAR, 1, 1)!;
const DAY_AFTER = dayOf(LAST_YEAR, 1, 1)!;

interface Cell {
  readonly status: number;
  readonly value: number;
  readonly unit: number;
  readonly look: number;
  readonly fault: CellFault | null;
}

const good = (value: number): Cell => ({ status: CELL.ok, value, unit: -1, look: LOOK.number, fault: null });
const bad = (code: CellFault["code"], expected: string, hint: string | null = null): Cell => ({
  status: CELL.bad,
  value: 0,
  unit: -1,
  look: LOOK.number,
  fault: { code, expected, hint },
});

/** The table of one column in one dialect. */
export function codeTable(plan: ColumnPlan, texts: readonly string[], context: CellContext): CodeTable {
  const measured = plan.type === "length";
  const table: CodeTable = {
    status: new Uint8Array(texts.length),
    value: new Float64Array(texts.length),
    unit: measured ? new Int8Array(texts.length) : null,
    look: measured ? new Uint8Array(texts.length) : null,
  };
  texts.forEach((text, code) => {
    const cell = convert(plan, text, context);
    table.status[code] = cell.status;
    table.value[code] = cell.value;
    if (measured) {
      table.unit![code] = cell.unit;
      table.look![code] = cell.look;
    }
  });
  return table;
}

/** Why a text is refused in a column; only for texts whose status is bad. */
export function faultOf(plan: ColumnPlan, text: string, context: CellContext): CellFault {
  const { fault } = convert(plan, text, context);
  if (fault === null) throw new Error(`no fault in ${JSON.stringify(text)} of column ${plan.out}`);
  return fault;
}

function convert(plan: ColumnPlan, text: string, context: CellContext): Cell {
  switch (plan.type) {
    case "day":
      return dayCell(text, context);
    case "month": {
      const cell = dayCell(text, context);
      return cell.status === CELL.ok ? good(monthStart(cell.value)) : cell;
    }
    case "hours":
      return hoursCell(text, context.decimal);
    case "length":
      return lengthCell(plan, text, context);
    case "words": {
      const words = plan.words!;
      const value = words.codes.get(text);
      return value === undefined ? { ...good(words.unknown), status: CELL.unknownWord } : good(value);
    }
    case "text":
      throw new Error(`column ${plan.out} holds texts: their codes are their values`);
  }
}

function dayCell(text: string, { order, readDate }: CellContext): Cell {
  const read = readDate(text);
  switch (read.kind) {
    case "day":
      return inSpan(read.day);
    case "either":
      return inSpan(order === "day first" ? read.dayFirst : read.monthFirst);
    case "ordered":
      if (read.order === order) return inSpan(read.day);
      return bad("E-DATE", `a date, ${order} as in the rest of the file`, "day and month swapped?");
    case "none":
      return bad("E-DATE", "a date", DATE_HINTS[read.why]);
  }
}

const DATE_HINTS: Readonly<Record<Extract<DateReading, { kind: "none" }>["why"], string | null>> = {
  "no date": null,
  "no such day": "there is no such day",
  "day number": "a spreadsheet's day number? format the column as dates before exporting",
  "two-digit year": 'a year of two digits? set dates under format, such as "dd-MMM-yy"',
};

function inSpan(day: number): Cell {
  if (day >= FIRST_DAY && day < DAY_AFTER) return good(day);
  return bad("E-RANGE", `a year from ${FIRST_YEAR} to ${LAST_YEAR}`);
}

function hoursCell(text: string, decimal: Decimal): Cell {
  const value = parseHours(text, decimal);
  if (value === null) return bad("E-NUMBER", "flight hours", decimalHint(text, decimal));
  if (value < 0 || value > MOST_HOURS) return bad("E-RANGE", `flight hours from 0 to ${MOST_HOURS}`);
  return good(value);
}

function lengthCell(plan: ColumnPlan, text: string, { decimal, wearWords }: CellContext): Cell {
  const word = plan.role === "wear" ? wearWords.get(text) : undefined;
  if (word !== undefined)
    return { ...good(Number.NaN), look: word === "below limit" ? LOOK.belowLimit : LOOK.overLimit };
  const cell = parseLength(text, decimal);
  if (cell.kind === "length")
    return { ...good(cell.value), unit: cell.unit === null ? -1 : UNIT_NUMBERS.indexOf(cell.unit) };
  if (cell.kind === "word" && plan.role === "wear")
    return { ...good(Number.NaN), status: CELL.unknownWord, look: LOOK.unknown };
  const what = plan.role === "wear" ? "wear" : "a gap";
  return bad(
    "E-NUMBER",
    `${what} as a number in ${Object.keys(MM_PER).join(", ")}`,
    decimalHint(text, decimal),
  );
}

function decimalHint(text: string, decimal: Decimal): string | null {
  const other = decimal === "." ? "," : ".";
  if (!text.includes(other)) return null;
  return other === ","
    ? "decimal comma? the rest of the file has a decimal point"
    : "decimal point? the rest of the file has a decimal comma";
}
