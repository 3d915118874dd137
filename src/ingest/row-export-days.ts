/** On which day each row was exported, and that nothing is dated later than that. */

import { isoDate } from "../units.ts";
import { EMPTY } from "./byte-texts.ts";
import type { ConvertInput, RowConverter } from "./convert-rows.ts";
import { NO_DAY } from "./converted-table.ts";
import { type ExportedDay, exportedFromName } from "./exported-date.ts";
import { readerOf } from "./file-dialects.ts";

export class RowExportDays {
  /** Day of export of each row, NO_DAY where unknown. */
  readonly days: Int32Array;
  readonly #input: ConvertInput;
  readonly #rows: RowConverter;
  readonly #ofFile: readonly ExportedDay[];
  readonly #column: ReturnType<ConvertInput["raw"]["column"]>;
  readonly #known = new Map<string, number>();

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

  /** @param day  the row's own date, null where it has none to compare (a month of flying) */
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
    const text = column.text(code);
    const { order } = this.#input.dialects[this.#rows.fileOf(row)]!;
    const key = `${order}${text}`;
    let day = this.#known.get(key);
    if (day === undefined) {
      const read = readerOf("exported", this.#input.spec)(text);
      if (read.kind === "day") day = read.day;
      else if (read.kind === "either") day = order === "day first" ? read.dayFirst : read.monthFirst;
      else day = read.kind === "ordered" && read.order === order ? read.day : NO_DAY;
      this.#known.set(key, day);
    }
    if (day === NO_DAY) {
      const why = code === EMPTY ? "E-MISSING" : "E-DATE";
      const fault = { code: why, expected: "the date of export", hint: null } as const;
      this.#rows.refuse(row, this.#rows.headingOf(row, "exported"), text, fault);
    }
    return day;
  }
}
