/** Physical lines of one file below its heading: each is a row, a blank, a total or a heading again, and is counted. */
import type { ExportKind } from "../fleet/fleet.ts";
import { ExportError, type RowProblem } from "../problems.ts";
import type { Heading } from "./find-heading.ts";
import { parseRecords, type RawRecord, RecordFramer } from "./frame-records.ts";
import { CUT_MARK } from "./lines.ts";
import type { RawTable } from "./raw-table.ts";

/** Every physical line is in one of these; read is rows, some of several lines. */
export interface LineCounts {
  lines: number;
  headingLines: number;
  blankLines: number;
  totalsLines: number;
  rowLines: number;
  read: number;
  rejected: number;
}

/** Records parsed at once: enough to make csv-parse's fixed cost small, few enough to stay in the cache. */
const BATCH = 1024;
const LONGEST_FOUND = 200;

// Form feeds are left alone: reports have them between pages, and they trim away as white space.
// biome-ignore lint/suspicious/noControlCharactersInRegex: control characters are what is looked for
const NO_TEXT = /[\u0000-\u0008\u000b\u000e-\u001f\u007f-\u0084\u0086-\u009f\ufffd\ud800]/;
const TOTALS =
  /^(?:(?:grand|report|page|overall|running)\s+|sub-?\s*)?(?:totals?|sums?|count|average|avg|mean|min|max|minimum|maximum|rows?|records?|number of (?:rows|records)|end of (?:report|export|file|list|page)|page)(?=$|[\s:=.])/i;

// biome-ignore lint/suspicious/noControlCharactersInRegex: control characters are what is looked for
const INVISIBLE = /[\u0000-\u001f\u007f-\u009f]/g;

/** A text as it goes into a problem: bounded, its end marked where it was cut, control characters made visible. */
export function shortened(text: string): string {
  const bounded = text.length > LONGEST_FOUND ? `${text.slice(0, LONGEST_FOUND)}…` : text;
  return bounded.replace(INVISIBLE, (c) =>
    c === "\n" ? "\\n" : `\\x${c.charCodeAt(0).toString(16).padStart(2, "0")}`,
  );
}

/** Takes the lines of one file and sorts them into headings, blanks, totals and rows. */
export class RowTaker {
  readonly counts: LineCounts = {
    lines: 0,
    headingLines: 0,
    blankLines: 0,
    totalsLines: 0,
    rowLines: 0,
    read: 0,
    rejected: 0,
  };
  /** Rows whose line has empty cells beyond the heading's. */
  trailingDelimiters = 0;
  repeatedHeadings = 0;
  readonly #framer: RecordFramer;
  readonly #cellOfColumn: readonly number[];
  readonly #dateCell: number;
  readonly #nameCell: number;
  readonly #headings: ReadonlySet<string>;
  #batch: RawRecord[] = [];

  constructor(
    kind: ExportKind,
    private readonly path: string,
    private readonly file: number,
    private readonly heading: Heading,
    private readonly raw: RawTable,
    private readonly onProblem: (problem: RowProblem) => void,
  ) {
    this.#framer = new RecordFramer(heading.delimiter);
    this.#framer.expectedCells = heading.cells.length;
    this.#cellOfColumn = heading.columns.map(({ cell }) => cell);
    const cell = (...roles: string[]): number =>
      heading.columns.find(({ role }) => roles.includes(role))?.cell ?? 0;
    this.#dateCell = cell("date", "installed_on", "month");
    this.#headings = new Set(heading.cells);
    this.#nameCell = cell(kind === "flying" ? "aircraft" : "component");
  }

  /** Takes the next physical lines. */
  lines(texts: readonly string[]): void {
    for (const text of texts) this.#line(text, ++this.counts.lines);
  }

  /** No more lines. */
  end(): void {
    this.#framer.end(this.#record);
    this.#flush();
  }

  #line(text: string, line: number): void {
    if (line < this.heading.line) {
      if (text.trim() === "") this.counts.blankLines++;
      else this.counts.headingLines++;
    } else if (line < this.heading.line + this.heading.lines) this.counts.headingLines++;
    else if (NO_TEXT.test(text)) {
      this.#framer.end(this.#record);
      this.#refuseText(text, line);
    } else this.#framer.push(text, line, this.#record);
  }

  readonly #record = (record: RawRecord): void => {
    if (record.unclosed) {
      this.#refuse(record, "E-QUOTE", "a closing quote within this cell", "a stray quotation mark?");
    } else if (record.text.trim() === "") this.counts.blankLines += record.lines;
    else {
      this.#batch.push(record);
      if (this.#batch.length >= BATCH) this.#flush();
    }
  };

  #flush(): void {
    const batch = this.#batch;
    if (batch.length === 0) return;
    this.#batch = [];
    const rows = parseRecords(
      batch.map(({ text }) => text),
      this.heading.delimiter,
    );
    for (let i = 0; i < rows.length; i++) this.#row(rows[i]!, batch[i]!);
  }

  #row(cells: string[], record: RawRecord): void {
    const wanted = this.heading.cells.length;
    if (cells.length > wanted && cells.slice(wanted).every((cell) => cell.trim() === "")) {
      cells.length = wanted;
      this.trailingDelimiters++;
    }
    if ((cells[this.#dateCell] ?? "").trim() === "" || cells.length !== wanted) {
      if (cells.every((cell) => cell.trim() === "")) {
        this.counts.blankLines += record.lines;
        return;
      }
      if (this.#isTotal(cells)) {
        this.counts.totalsLines += record.lines;
        return;
      }
    } else if (this.#isHeading(cells)) {
      this.counts.headingLines += record.lines;
      this.repeatedHeadings++;
      return;
    }
    if (this.#headings.has((cells[this.#dateCell] ?? "").trim())) this.#refuseOtherOrder(cells, record.line);
    if (cells.length !== wanted) this.#wrongCount(cells.length, record);
    else {
      this.counts.rowLines += record.lines;
      this.counts.read++;
      this.raw.push(this.file, record.line, cells, this.#cellOfColumn);
    }
  }

  /** A totals word in the first filled cell, no date, and no name of a component (or aircraft) beside it. */
  #isTotal(cells: readonly string[]): boolean {
    const first = cells.findIndex((cell) => cell.trim() !== "");
    if (!TOTALS.test(cells[first]!.trim().replace(/^[-=*\s]+/, ""))) return false;
    const date = (cells[this.#dateCell] ?? "").trim();
    const name = (cells[this.#nameCell] ?? "").trim();
    return (
      (date === "" || first === this.#dateCell) &&
      (name === "" || first === this.#nameCell || /^\d+$/.test(name))
    );
  }

  #isHeading(cells: readonly string[]): boolean {
    return this.heading.columns.every(
      ({ cell, heading }) => cells[cell]!.replace(/\s+/g, " ").trim() === heading,
    );
  }

  /** Another heading inside, with its columns in other places: what follows can't be read by the first one. */
  #refuseOtherOrder(cells: readonly string[], line: number): void {
    const there = cells.map((cell) => cell.replace(/\s+/g, " ").trim());
    if (!this.heading.columns.every(({ heading }) => there.includes(heading))) return;
    throw new ExportError(
      "E-HEADING",
      `${this.path}:${line}: the headings stand again with their columns in other places than on line ${this.heading.line}: two exports in one file? Split them`,
    );
  }

  #wrongCount(found: number, record: RawRecord): void {
    const wanted = this.heading.cells.length;
    const hint =
      found < wanted
        ? `${found} cells: a line break or a missing delimiter?`
        : `${found} cells: a delimiter within a text, or a decimal comma between comma-separated cells?`;
    this.#refuse(record, "E-COLUMNS", `${wanted} cells, as the heading has`, hint);
  }

  #refuseText(text: string, line: number): void {
    const record: RawRecord = { text: text.replace(CUT_MARK, "…"), line, lines: 1, unclosed: false };
    if (text.endsWith(CUT_MARK))
      this.#refuse(record, "E-LONG-LINE", "a line of at most a million characters", null);
    else if (text.includes("\ufffd"))
      this.#refuse(
        record,
        "E-ENCODING",
        "text in the file's encoding",
        "damaged on its way, or a mixture of encodings",
      );
    else this.#refuse(record, "E-CONTROL", "text without control characters", null);
  }

  #refuse(record: RawRecord, code: RowProblem["code"], expected: string, hint: string | null): void {
    this.counts.rowLines += record.lines;
    this.counts.read++;
    this.counts.rejected++;
    const { path: file } = this;
    this.onProblem({
      code,
      file,
      line: record.line,
      column: null,
      expected,
      found: shortened(record.text),
      hint,
    });
  }
}
