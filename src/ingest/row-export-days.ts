/** On which day each row was exported, and that nothing is dated later than that. */

import { NO_DAY } from "../records/exports.ts";
import { isoDate } from "../units.ts";
import { EMPTY } from "./byte-texts.ts";
import type { ConvertInput, RowConverter } from "./convert-rows.ts";
import { type ExportedDay, exportedFromName } from "./exported-date.ts";
import { readerOf } from "./file-dialects.ts";
import type { DateOrder, DateReading } from "./parse-date.ts";

export class RowExportDays {
  /** Day of export of each row, NO_DAY where unknown. */
  readonly days: Int32Array;
  readonly #input: ConvertInput;
  readonly #rows: RowConverter;
  readonly #ofFile: readonly ExportedDay[];
  readonly #column: ReturnType<ConvertInput["raw"]["column"]>;
  /** Days by date order and code of the column; NO_DAY where the text is none. */
  readonly #known = new Map<DateOrder, Int32Array>();

  /** Throws UsageError E-FLEET where a file's name doesn't fit the fleet file's pattern. */
  constructor(input: ConvertInput, rows: RowConverter) {
    const { spec, raw, files } = input;
    this.#input = input;
    this.#rows = rows;
    this.days = new Int32Array(raw.rows).fill(NO_DAY);
    const { exported } = spec;
    this.#ofFile =
      exported?.from === "name" ? files.map(({ path }) => exportedFromName(path, exported.pattern)) : [];
    this.#column = raw.column("exported");
  }

  /**
   * Days of the rows that nothing is to be said about; the others are marked as odd.
   * @param day  the rows' own dates, null where they have none to compare (a month of flying)
   */
  convertPlain(day: ArrayLike<number> | null, odd: Uint8Array): void {
    const codes = this.#column?.codes ?? null;
    for (const [at, { firstRow, endRow }] of this.#input.files.entries()) {
      const byName = this.#ofFile[at];
      const known = codes === null ? null : this.#daysOf(at);
      const inFile = byName?.day ?? NO_DAY;
      for (let row = firstRow; row < endRow; row++) {
        let exported = inFile;
        if (codes !== null) {
          exported = codes[row] === EMPTY ? NO_DAY : known![codes[row]!]!;
          if (exported === NO_DAY) odd[row] = 1;
        }
        this.days[row] = exported;
        if (exported !== NO_DAY && day !== null && day[row]! > (byName?.latestRow ?? exported + 1))
          odd[row] = 1;
      }
    }
  }

  /** One row, whatever is in it. @param day  its own date */
  convert(row: number, day: number | null): void {
    const byName = this.#ofFile[this.#rows.fileOf(row)];
    const exported = this.#column === null ? (byName?.day ?? NO_DAY) : this.#fromCell(row);
    this.days[row] = exported;
    if (exported === NO_DAY || day === null || day <= (byName?.latestRow ?? exported + 1)) return;
    const dateRole = this.#input.spec.kind === "installed" ? "installed_on" : "date";
    this.#rows.refuse(row, this.#rows.headingOf(row, dateRole), isoDate(day), {
      code: "E-RANGE",
      expected: `a date no later than the export (${isoDate(exported)})`,
      hint: null,
    });
  }

  #fromCell(row: number): number {
    const column = this.#column!;
    const code = column.codes[row]!;
    const day = code === EMPTY ? NO_DAY : this.#daysOf(this.#rows.fileOf(row))[code]!;
    if (day === NO_DAY) {
      const why = code === EMPTY ? "E-MISSING" : "E-DATE";
      const fault = { code: why, expected: "the date of export", hint: null } as const;
      this.#rows.refuse(row, this.#rows.headingOf(row, "exported"), column.text(code), fault);
    }
    return day;
  }

  /** The day that each text of the column is, in the date order of a file. */
  #daysOf(file: number): Int32Array {
    const { order } = this.#input.dialects[file]!;
    let days = this.#known.get(order);
    if (days === undefined) {
      const read = readerOf("exported", this.#input.spec);
      days = Int32Array.from(this.#column!.texts, (text) => dayIn(order, read(text)));
      this.#known.set(order, days);
    }
    return days;
  }
}

function dayIn(order: DateOrder, read: DateReading): number {
  if (read.kind === "day") return read.day;
  if (read.kind === "either") return order === "day first" ? read.dayFirst : read.monthFirst;
  return read.kind === "ordered" && read.order === order ? read.day : NO_DAY;
}
