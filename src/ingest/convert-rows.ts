/** Raw rows of one kind to typed columns: each cell through its column's table, a row refused where a cell can't be. */
import type { ExportSpec, Fleet } from "../fleet/fleet.ts";
import type { RowProblem } from "../problems.ts";
import { LOOK } from "../records/exports.ts";
import { EMPTY } from "./byte-texts.ts";
import { CELL, type CellContext, type CellFault, type CodeTable, codeTable, faultOf } from "./code-table.ts";
import type { ComponentRegistry } from "./components.ts";
import { type ConvertedTable, type NumberColumn, ROW } from "./converted-table.ts";
import { type FileDialect, readerOf } from "./file-dialects.ts";
import { GrowInt32 } from "./growable.ts";
import { type ColumnPlan, columnPlans } from "./kinds.ts";
import { LengthUnits } from "./length-units.ts";
import { convertPlain } from "./plain-cells.ts";
import type { FileReading, RawColumn, RawTable } from "./raw-table.ts";
import { RowComponents } from "./row-components.ts";
import { RowExportDays } from "./row-export-days.ts";
import { shortened } from "./row-words.ts";
import { sectionOf, type UnknownWords } from "./unknown-words.ts";

export interface ConvertInput {
  readonly fleet: Fleet;
  readonly spec: ExportSpec;
  readonly raw: RawTable;
  /** The files of this kind, and the number in the ledger of the first of them. */
  readonly files: readonly FileReading[];
  readonly firstFile: number;
  readonly dialects: readonly FileDialect[];
  readonly registry: ComponentRegistry;
  readonly onProblem: (problem: RowProblem) => void;
}

/** A column on its way: where its cells come from, what they become by file, where that goes. */
interface Channel {
  readonly plan: ColumnPlan;
  readonly raw: RawColumn | null;
  readonly codes: Int32Array | null;
  /** Table for each file of the kind. */
  readonly tables: readonly CodeTable[];
  readonly contexts: readonly CellContext[];
  readonly out: NumberColumn;
}

/**
 * Converts the cells that nothing is to be said about column by column, and the rows that hold others row by row, since a
 * row's problems are told together and a row is refused as a whole.
 */
export class RowConverter {
  readonly #input: ConvertInput;
  readonly #channels: readonly Channel[];
  readonly #line: Int32Array;
  readonly #file: Uint16Array;
  readonly #state: Uint8Array;
  readonly #unassigned: Uint8Array;
  // Unknown words: each once, and the rows that have them.
  readonly #words: { role: string; word: string; known: readonly string[] }[] = [];
  readonly #wordNumbers = new Map<string, number>();
  readonly #wordRows = new GrowInt32();
  readonly #wordOfRow = new GrowInt32();

  constructor(input: ConvertInput) {
    const { raw } = input;
    this.#input = input;
    this.#line = raw.line;
    this.#file = raw.file;
    this.#state = new Uint8Array(raw.rows);
    this.#unassigned = new Uint8Array(raw.rows);
    this.#channels = columnPlans(input.spec.kind, input.fleet.words).map((plan) => this.#channel(plan));
  }

  run(): ConvertedTable {
    const { raw, spec } = this.#input;
    const components = spec.kind === "flying" ? null : new RowComponents(this.#input, this);
    const units = new LengthUnits(this.#input, this);
    const exportDays = new RowExportDays(this.#input, this);
    const measured = this.#channels.find(({ plan }) => plan.type === "length") ?? null;
    const look = spec.kind === "wear" ? new Uint8Array(raw.rows) : null;
    const dated = this.#channels.find(({ plan }) => plan.type === "day") ?? null;
    const odd = new Uint8Array(raw.rows);
    components?.convertPlain(odd);
    for (const channel of this.#channels) convertPlain(channel, raw.files, odd);
    if (measured !== null) units.convertPlain(measured, look, odd);
    exportDays.convertPlain(dated?.out ?? null, odd);
    for (let row = odd.indexOf(1); row >= 0; row = odd.indexOf(1, row + 1)) {
      const at = this.fileOf(row);
      components?.convert(row);
      for (const channel of this.#channels) this.#convert(channel, row, at);
      if (measured !== null) this.#measure(measured, units, look, row, at);
      exportDays.convert(row, dated === null ? null : dated.out[row]!);
    }
    const columns: Record<string, NumberColumn> = {};
    const words: Record<string, readonly string[]> = {};
    if (components !== null) columns.component = components.numbers;
    if (look !== null) columns.look = look;
    for (const { plan, raw: from, out } of this.#channels) {
      columns[plan.out] = out;
      if (plan.type === "text") words[plan.out] = from?.texts ?? [];
      else if (plan.words?.names) words[plan.out] = plan.words.names;
    }
    return {
      kind: spec.kind,
      rows: raw.rows,
      state: this.#state,
      file: this.#file,
      line: this.#line,
      unassigned: this.#unassigned,
      columns,
      words,
      exported: exportDays.days,
    };
  }

  /** Number, among the files of this kind, of the file a row is from. */
  fileOf(row: number): number {
    return this.#file[row]! - this.#input.firstFile;
  }

  /** Refuses a row for one of its cells (column null: for the whole of it). */
  refuse(row: number, column: string | null, text: string, fault: CellFault): void {
    this.#state[row] = ROW.rejected;
    this.#input.onProblem({
      ...fault,
      file: this.#input.files[this.fileOf(row)]!.path,
      line: this.#line[row]!,
      column,
      found: shortened(text),
    });
  }

  /** Marks a row as unassigned for an unknown word; whether it counts is known once repeats are out. */
  unknownWord(row: number, role: string, word: string, known: readonly string[]): void {
    this.#unassigned[row] = 1;
    const key = `${role}\0${word}`;
    let number = this.#wordNumbers.get(key);
    if (number === undefined) {
      number = this.#words.push({ role, word, known }) - 1;
      this.#wordNumbers.set(key, number);
    }
    this.#wordRows.push(row);
    this.#wordOfRow.push(number);
  }

  /** Counts the unknown words of the rows that stayed. */
  countWords(table: ConvertedTable, unknown: UnknownWords): void {
    for (let at = 0; at < this.#wordRows.length; at++) {
      const row = this.#wordRows.get(at);
      if (table.state[row] !== ROW.accepted) continue;
      const { role, word, known } = this.#words[this.#wordOfRow.get(at)]!;
      unknown.add({
        kind: this.#input.spec.kind,
        column: this.headingOf(row, role) ?? role,
        section: sectionOf(role),
        word,
        known,
        firstFile: this.#input.files[this.fileOf(row)]!.path,
        firstLine: this.#line[row]!,
      });
    }
  }

  /** A column's heading as the row's file writes it; null where the export has no such column. */
  headingOf(row: number, role: string): string | null {
    const { columns } = this.#input.files[this.fileOf(row)]!.heading;
    return columns.find((column) => column.role === role)?.heading ?? null;
  }

  #channel(plan: ColumnPlan): Channel {
    const { raw, spec, dialects, fleet } = this.#input;
    const from = raw.column(plan.role);
    const tables = new Map<string, CodeTable>();
    const contexts = dialects.map(({ decimal, order }) => ({
      decimal,
      order,
      readDate: readerOf(plan.role, spec),
      wearWords: fleet.words.wearWords,
    }));
    const byFile =
      from === null || plan.type === "text"
        ? []
        : contexts.map((context) => {
            const key = `${context.decimal}${context.order}`;
            const table = tables.get(key) ?? codeTable(plan, from.texts, context);
            tables.set(key, table);
            return table;
          });
    const codes = from?.codes ?? null;
    // A text's code is its value, and an empty cell's is that of a missing one: the column is there already.
    const out = plan.type === "text" && codes !== null ? codes : columnFor(plan, raw.rows).fill(plan.missing);
    return { plan, raw: from, codes, tables: byFile, contexts, out };
  }

  #convert(channel: Channel, row: number, at: number): void {
    const { plan, raw, codes } = channel;
    if (codes === null) return;
    const code = codes[row]!;
    if (code === EMPTY) {
      if (plan.required) this.refuse(row, this.headingOf(row, plan.role), "", MISSING);
      else if (plan.emptyIsUnknown) {
        channel.out[row] = plan.words!.unknown;
        this.unknownWord(row, plan.role, "", []);
      }
      return;
    }
    if (plan.type === "text") return;
    const table = channel.tables[at]!;
    const status = table.status[code]!;
    if (status === CELL.bad) {
      const text = raw!.text(code);
      this.refuse(row, this.headingOf(row, plan.role), text, faultOf(plan, text, channel.contexts[at]!));
      return;
    }
    channel.out[row] = table.value[code]!;
    if (status === CELL.unknownWord) {
      const known = plan.words === undefined ? this.#input.fleet.words.wearWords : plan.words.codes;
      this.unknownWord(row, plan.role, raw!.text(code), [...known.keys()]);
    }
  }

  /** A length in its own unit to millimetres; the kind of look beside it. */
  #measure(channel: Channel, units: LengthUnits, look: Uint8Array | null, row: number, at: number): void {
    const code = channel.codes?.[row] ?? EMPTY;
    const table = channel.tables[at];
    if (code === EMPTY || table === undefined || table.status[code] === CELL.bad) return;
    const kind = table.look![code]!;
    if (look !== null) look[row] = kind;
    if (kind !== LOOK.number) return;
    channel.out[row] = units.millimetres(
      row,
      at,
      table.value[code]!,
      table.unit![code]!,
      channel.raw!.text(code),
    );
  }
}

const MISSING: CellFault = { code: "E-MISSING", expected: "a filled cell", hint: null };

function columnFor(plan: ColumnPlan, rows: number): NumberColumn {
  if (plan.type === "hours" || plan.type === "length") return new Float64Array(rows);
  return plan.type === "words" && plan.words?.names === null ? new Uint8Array(rows) : new Int32Array(rows);
}
