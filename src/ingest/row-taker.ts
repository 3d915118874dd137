/** Physical lines of one file below its heading: each is a row, a blank, a total or a heading again, and is counted. */
import type { ExportKind } from "../fleet/fleet.ts";
import { ExportError, type RowProblem } from "../problems.ts";
import { type LineProblem, noCounts } from "./file-texts.ts";
import type { Heading } from "./find-heading.ts";
import { parseRecords, type RawRecord, RecordFramer } from "./frame-records.ts";
import { CUT_MARK } from "./lines.ts";
import { NO_TEXT, shortened, TOTALS } from "./row-words.ts";
import type { TextRows } from "./text-rows.ts";

/** Records parsed at once: enough to make csv-parse's fixed cost small, few enough to stay in the cache. */
const BATCH = 1024;
/** What a taker needs to know of its file. */
export interface TakerSetup {
  readonly kind: ExportKind;
  /** For what is said of the file as a whole. */
  readonly path: string;
  readonly heading: Heading;
}

/** Number of the cell that holds a row's date. */
export const dateCellOf = (heading: Heading): number => cellOf(heading, "date", "installed_on", "month");

const cellOf = ({ columns }: Heading, ...roles: string[]): number =>
  columns.find(({ role }) => roles.includes(role))?.cell ?? 0;

/** Takes the lines of one file and sorts them into headings, blanks, totals and rows. */
export class RowTaker {
  counts = noCounts();
  /** Rows whose line has empty cells beyond the heading's. */
  trailingDelimiters = 0;
  repeatedHeadings = 0;
  readonly heading: Heading;
  readonly #path: string;
  readonly #framer: RecordFramer;
  readonly #dateCell: number;
  readonly #nameCell: number;
  readonly #headings: ReadonlySet<string>;
  readonly #rows: TextRows;
  readonly #onProblem: (problem: LineProblem) => void;
  #lastLine = 0;
  #batch: RawRecord[] = [];

  constructor(
    { kind, path, heading }: TakerSetup,
    rows: TextRows,
    onProblem: (problem: LineProblem) => void,
  ) {
    this.heading = heading;
    this.#path = path;
    this.#rows = rows;
    this.#onProblem = onProblem;
    this.#framer = new RecordFramer(heading.delimiter);
    this.#framer.expectedCells = heading.cells.length;
    this.#dateCell = dateCellOf(heading);
    this.#headings = new Set(heading.cells);
    this.#nameCell = cellOf(heading, kind === "flying" ? "aircraft" : "component");
  }

  /** Takes the next physical lines. */
  lines(texts: readonly string[]): void {
    for (const text of texts) this.line(text);
  }

  /** Takes the next physical line. */
  line(text: string): void {
    this.counts.lines++;
    this.#line(text, ++this.#lastLine);
  }

  /** Goes on elsewhere in the file: so many lines are before the next one. */
  continueAfter(lines: number): void {
    this.#lastLine = lines;
  }

  /** No more lines. */
  end(): void {
    this.#framer.end(this.#record);
    this.flush();
  }

  /** True where the next line is a row by itself: below the heading, with no quoted cell open. */
  get awaitsRow(): boolean {
    return this.#lastLine >= this.heading.line + this.heading.lines - 1 && !this.#framer.isHolding;
  }

  /** How many records are held back, to be parsed with the next ones. */
  get waiting(): number {
    return this.#batch.length;
  }

  /** Counts the next line as a row that was read elsewhere, and gives its number. */
  countRow(): number {
    this.counts.lines++;
    this.counts.rowLines++;
    this.counts.read++;
    return ++this.#lastLine;
  }

  /** Counts the next line as a blank one. */
  countBlank(): void {
    this.counts.lines++;
    this.counts.blankLines++;
    this.#lastLine++;
  }

  #line(text: string, line: number): void {
    if (line < this.heading.line) {
      if (text.trim() === "") this.counts.blankLines++;
      else this.counts.headingLines++;
    } else if (line < this.heading.line + this.heading.lines) this.counts.headingLines++;
    else if (NO_TEXT.test(text)) {
      this.#framer.end(this.#record);
      // What is told of lines is told in their order, however they came in pieces.
      this.flush();
      this.#refuseText(text, line);
    } else this.#framer.push(text, line, this.#record);
  }

  readonly #record = (record: RawRecord): void => {
    if (record.unclosed) {
      this.flush();
      this.#refuse(record, "E-QUOTE", "a closing quote within this cell", "a stray quotation mark?");
    } else if (record.text.trim() === "") this.counts.blankLines += record.lines;
    else {
      this.#batch.push(record);
      if (this.#batch.length >= BATCH) this.flush();
    }
  };

  /** Parses the records held back. */
  flush(): void {
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
      this.#rows.pushCells(record.line, cells);
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
      `${this.#path}:${line}: the headings stand again with their columns in other places than on line ${this.heading.line}: two exports in one file? Split them`,
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
    this.#onProblem({
      code,
      line: record.line,
      column: null,
      expected,
      found: shortened(record.text),
      hint,
    });
  }
}
