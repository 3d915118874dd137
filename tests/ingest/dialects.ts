/** A valid wear table and every way of writing it, for property tests of reading. */
import fc from "fast-check";
import { isoDate } from "../../src/units.ts";

export interface TableRow {
  readonly serial: string;
  readonly day: number;
  readonly hours: number;
  readonly wearMm: number;
  readonly remark: string;
}

export interface Dialect {
  readonly delimiter: "," | ";" | "\t" | "|";
  readonly decimal: "." | ",";
  readonly thousands: boolean;
  readonly dates: "iso" | "day-first" | "month-first" | "named";
  readonly encoding: "utf-8" | "utf-8 with mark" | "utf-16le" | "utf-16be" | "windows-1252";
  readonly lineEnd: "\n" | "\r\n" | "\r" | "mixed";
  readonly quotes: "needed" | "all";
  readonly preamble: boolean;
  readonly totals: boolean;
  readonly lastEnd: boolean;
}

export const dialects: fc.Arbitrary<Dialect> = fc.record({
  delimiter: fc.constantFrom(",", ";", "\t", "|"),
  decimal: fc.constantFrom(".", ","),
  thousands: fc.boolean(),
  dates: fc.constantFrom("iso", "day-first", "month-first", "named"),
  encoding: fc.constantFrom("utf-8", "utf-8 with mark", "utf-16le", "utf-16be", "windows-1252"),
  lineEnd: fc.constantFrom("\n", "\r\n", "\r", "mixed"),
  quotes: fc.constantFrom("needed", "all"),
  preamble: fc.boolean(),
  totals: fc.boolean(),
  lastEnd: fc.boolean(),
});

const REMARKS = [
  "",
  "tight",
  "play, slight",
  "a; b",
  'said "tight"',
  "two\nlines",
  "\u00e9t\u00e9 5 \u20ac",
  "a|b",
  "tab\there",
  "=1+1",
];

/** Rows with one key each; the first has a day beyond twelve and a fraction, so that the dialect can be told. */
export const tables: fc.Arbitrary<readonly TableRow[]> = fc
  .array(
    fc.record({
      serialNumber: fc.integer({ min: 0, max: 99_999 }),
      day: fc.integer({ min: 14_610, max: 20_700 }),
      tenths: fc.integer({ min: 0, max: 250_000 }),
      microns: fc.integer({ min: 0, max: 900 }),
      remark: fc.constantFrom(...REMARKS),
    }),
    { minLength: 0, maxLength: 40 },
  )
  .map((rows) => [
    { serial: "FIRST", day: 20_468, hours: 1100.5, wearMm: 0.11, remark: "" },
    ...rows.map(({ serialNumber, day, tenths, microns, remark }, at) => ({
      serial: `${String(serialNumber).padStart(5, "0")}-${at}`,
      day,
      hours: tenths / 10,
      wearMm: microns / 1000,
      remark,
    })),
  ]);

/** The cells of a table in a dialect, heading first. */
export function cellsIn(rows: readonly TableRow[], dialect: Dialect): string[][] {
  return [
    ["Serial", "Date", "Hours", "Wear", "Remark"],
    ...rows.map(({ serial, day, hours, wearMm, remark }) => [
      serial,
      dateIn(day, dialect.dates),
      numberIn(hours, 1, dialect),
      numberIn(wearMm, 3, { ...dialect, thousands: false }),
      remark,
    ]),
  ];
}

function dateIn(day: number, dates: Dialect["dates"]): string {
  const iso = isoDate(day);
  const [year, month, dayOfMonth] = iso.split("-") as [string, string, string];
  const names = "Jan Feb Mar Apr May Jun Jul Aug Sep Oct Nov Dec".split(" ");
  if (dates === "day-first") return `${dayOfMonth}.${month}.${year}`;
  if (dates === "month-first") return `${month}/${dayOfMonth}/${year}`;
  return dates === "named" ? `${dayOfMonth}-${names[Number(month) - 1]}-${year}` : iso;
}

function numberIn(value: number, digits: number, { decimal, thousands }: Dialect): string {
  const [whole, fraction] = value.toFixed(digits).split(".") as [string, string];
  const grouped = thousands ? whole.replace(/\B(?=(\d{3})+$)/g, decimal === "." ? "," : ".") : whole;
  return grouped + decimal + fraction;
}

/** The text of a table in a dialect, and how many physical lines it has. */
export function textIn(rows: readonly TableRow[], dialect: Dialect): string {
  const records = cellsIn(rows, dialect).map((cells) =>
    cells.map((cell) => quoted(cell, dialect)).join(dialect.delimiter),
  );
  if (dialect.preamble) records.unshift("Wear report of an invented operator", "");
  if (dialect.totals) records.push(["Total", "", "", "", ""].join(dialect.delimiter));
  const ends = ["\n", "\r\n", "\r"];
  return records
    .map((record, at) => {
      if (at === records.length - 1 && !dialect.lastEnd) return record;
      return record + (dialect.lineEnd === "mixed" ? ends[at % 3] : dialect.lineEnd);
    })
    .join("");
}

function quoted(cell: string, { delimiter, quotes }: Dialect): string {
  const must = cell.includes(delimiter) || /["\r\n]/.test(cell);
  return must || quotes === "all" ? `"${cell.replaceAll('"', '""')}"` : cell;
}

export function encode(text: string, encoding: Dialect["encoding"]): Uint8Array {
  switch (encoding) {
    case "utf-8":
      return Buffer.from(text, "utf8");
    case "utf-8 with mark":
      return Buffer.from(`\ufeff${text}`, "utf8");
    case "utf-16le":
      return Buffer.from(`\ufeff${text}`, "utf16le");
    case "utf-16be":
      return Buffer.from(`\ufeff${text}`, "utf16le").swap16();
    case "windows-1252":
      // The euro sign is the one character of the tables that is elsewhere in ISO 8859-1.
      return Buffer.from(text.replaceAll("\u20ac", "\u0080"), "latin1");
  }
}
