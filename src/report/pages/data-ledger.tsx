/**
 * The ledger of every row and every physical line, with its arithmetic: by file, and where there are many files by kind
 * of export first, the files behind a click.
 */
import type { VNode } from "preact";
import type { Month } from "../../interval/month-result.ts";
import { Part } from "../layout.tsx";
import { counted, date, whole } from "../number-format.ts";
import { type Cell, type Column, Table } from "../table.tsx";

export type Ledger = Month["inputs"][number];

/** More files than this are summed up by kind. */
const MOST_FILES_SHOWN = 12;

interface Measure {
  readonly head: string;
  readonly of: (ledger: Ledger) => number;
}

const ROWS: readonly Measure[] = [
  { head: "Read", of: ({ read }) => read },
  { head: "Accepted", of: ({ accepted }) => accepted },
  { head: "Rejected", of: ({ rejected }) => rejected },
  { head: "Identical", of: ({ identical }) => identical },
  { head: "Superseded", of: ({ superseded }) => superseded },
  { head: "Used", of: ({ used }) => used },
  { head: "Unassigned", of: ({ unassigned }) => unassigned },
  { head: "After as-of", of: ({ afterAsOf }) => afterAsOf },
];

const LINES: readonly Measure[] = [
  { head: "Lines", of: ({ lines }) => lines },
  { head: "Headings", of: ({ headingLines }) => headingLines },
  { head: "Blank", of: ({ blankLines }) => blankLines },
  { head: "Totals", of: ({ totalsLines }) => totalsLines },
  { head: "Of rows", of: ({ rowLines }) => rowLines },
  { head: "Bytes", of: ({ bytes }) => bytes },
];

/** A count, with nothing to see where it is nothing. */
const count = (value: number): Cell => ({
  show: value === 0 ? <span class="quiet">0</span> : whole(value),
  sortBy: value,
});

/** By how much a file's ledger doesn't add up, in words; none where it does. */
function imbalance(ledger: Ledger): string[] {
  const rows = ledger.accepted + ledger.rejected + ledger.identical + ledger.superseded;
  const used = ledger.used + ledger.unassigned + ledger.afterAsOf;
  const lines = ledger.headingLines + ledger.blankLines + ledger.totalsLines + ledger.rowLines;
  const off: string[] = [];
  if (rows !== ledger.read) off.push(`${counted(ledger.read - rows, "row")} unaccounted for`);
  if (used !== ledger.accepted)
    off.push(`${counted(ledger.accepted - used, "accepted row")} unaccounted for`);
  if (lines !== ledger.lines) off.push(`${counted(ledger.lines - lines, "line")} unaccounted for`);
  return off;
}

function balance(files: readonly Ledger[]): string {
  const [first] = files;
  if (files.length === 1 && first !== undefined) return imbalance(first).join("; ") || "adds up";
  const off = files.filter((file) => imbalance(file).length > 0).length;
  return off === 0 ? "adds up" : `${counted(off, "file")} of ${whole(files.length)} off`;
}

const numeric = ({ head }: Measure): Column => ({ head, numeric: true });
const counts = (measures: readonly Measure[], files: readonly Ledger[]): Cell[] =>
  measures.map(({ of }) => count(files.reduce((sum, file) => sum + of(file), 0)));

/** Kinds of export with their sums, and the sum of all. */
function KindTable(props: {
  readonly month: Month;
  readonly caption: string;
  readonly measures: readonly Measure[];
  readonly sum: boolean;
}): VNode {
  const { month, caption, measures, sum } = props;
  const kinds = [...new Set(month.inputs.map(({ kind }) => kind))];
  const row = (name: string, files: readonly Ledger[]): readonly Cell[] => [
    name,
    whole(files.length),
    ...counts(measures, files),
    ...(sum ? [balance(files)] : []),
  ];
  return (
    <Table
      narrow="scroll"
      caption={caption}
      columns={[
        { head: "Export" },
        { head: "Files", numeric: true },
        ...measures.map(numeric),
        ...(sum ? [{ head: "Sum" }] : []),
      ]}
      rows={[
        ...kinds.map((kind) =>
          row(
            kind,
            month.inputs.filter((ledger) => ledger.kind === kind),
          ),
        ),
        row("all exports", month.inputs),
      ]}
    />
  );
}

/** The files' table by itself, or behind a click under the kinds' where there are many; open where one is off. */
function Files(props: { readonly month: Month; readonly kinds: VNode; readonly files: VNode }): VNode {
  const { inputs } = props.month;
  if (inputs.length <= MOST_FILES_SHOWN) return props.files;
  const off = inputs.some((file) => imbalance(file).length > 0);
  return (
    <>
      {props.kinds}
      <details open={off}>
        <summary>Each of the {whole(inputs.length)} files</summary>
        {props.files}
      </details>
    </>
  );
}

/** What became of the rows of each export. */
export function RowLedger({ month }: { month: Month }): VNode {
  const files = (
    <Table
      narrow="scroll"
      caption="Rows below the headings, by file"
      columns={[{ head: "File" }, ...ROWS.map(numeric), { head: "Sum" }]}
      rows={month.inputs.map((ledger): readonly Cell[] => [
        <bdi key="file">{ledger.file}</bdi>,
        ...counts(ROWS, [ledger]),
        balance([ledger]),
      ])}
      sortable
    />
  );
  const kinds = (
    <KindTable month={month} caption="Rows below the headings, by kind of export" measures={ROWS} sum />
  );
  return (
    <Part title="Every row" id="rows">
      <p>
        Read = accepted + rejected + identical + superseded. Accepted = used + unassigned + after as-of.
        Identical and superseded rows repeat another, word for word or in a later export of the same key. The
        latest date in the exports is {date(month.latestDay)}.
      </p>
      <Files month={month} kinds={kinds} files={files} />
      <p>
        Rejected rows stand in <a href="rejected.csv">rejected.csv</a>, each with its line, what was expected
        and what was found.
      </p>
    </Part>
  );
}

/** What the physical lines of each file were. */
export function LineLedger({ month }: { month: Month }): VNode {
  const files = (
    <Table
      narrow="scroll"
      caption="Physical lines, by file"
      columns={[
        { head: "File" },
        { head: "Kind" },
        { head: "Exported" },
        ...LINES.map(numeric),
        { head: "sha256", unbroken: true },
      ]}
      rows={month.inputs.map((ledger): readonly Cell[] => [
        <bdi key="file">{ledger.file}</bdi>,
        ledger.kind,
        date(ledger.exported),
        ...counts(LINES, [ledger]),
        <code key="hash">{ledger.sha256}</code>,
      ])}
      sortable
    />
  );
  const kinds = (
    <KindTable month={month} caption="Physical lines, by kind of export" measures={LINES} sum={false} />
  );
  return (
    <Part title="Every line" id="lines">
      <p>Lines = headings + blank + totals + lines of rows read.</p>
      <Files month={month} kinds={kinds} files={files} />
    </Part>
  );
}
