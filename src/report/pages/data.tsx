/** data.html: read by an auditor. Where is every row, what was wrong, and what was taken for what? */
import type { VNode } from "preact";
import type { Month, ProblemCount } from "../../interval/month-result.ts";
import { PROBLEM_CODES } from "../../problems.ts";
import { Page, Part } from "../layout.tsx";
import { counted, date, listed, share, whole } from "../number-format.ts";
import { type Cell, Table } from "../table.tsx";

type Ledger = Month["inputs"][number];

const sumOf = (month: Month, pick: (ledger: Ledger) => number): number =>
  month.inputs.reduce((total, ledger) => total + pick(ledger), 0);

export function dataFinding(month: Month): string {
  const read = sumOf(month, (ledger) => ledger.read);
  const rejected = sumOf(month, (ledger) => ledger.rejected);
  const used = sumOf(month, (ledger) => ledger.used);
  if (read === 0) return "Data: no row was read";
  return `Data: ${share(used / read)} of ${counted(read, "row")} used, ${whole(rejected)} rejected`;
}

const number = (head: string) => ({ head, numeric: true });

/** A count, with nothing to see where it is nothing. */
const count = (value: number): Cell => ({
  show: value === 0 ? <span class="quiet">0</span> : whole(value),
  sortBy: value,
});

/** The ledger adds up, or the page says by how much it doesn't. */
function balance(ledger: Ledger): string {
  const rows = ledger.accepted + ledger.rejected + ledger.identical + ledger.superseded;
  const used = ledger.used + ledger.unassigned + ledger.afterAsOf;
  const lines = ledger.headingLines + ledger.blankLines + ledger.totalsLines + ledger.rowLines;
  const off: string[] = [];
  if (rows !== ledger.read) off.push(`${whole(ledger.read - rows)} rows unaccounted for`);
  if (used !== ledger.accepted) off.push(`${whole(ledger.accepted - used)} accepted rows unaccounted for`);
  if (lines !== ledger.lines) off.push(`${whole(ledger.lines - lines)} lines unaccounted for`);
  return off.length === 0 ? "adds up" : off.join("; ");
}

function RowLedger({ month }: { month: Month }): VNode {
  const rows = month.inputs.map((ledger): readonly Cell[] => [
    <bdi key="file">{ledger.file}</bdi>,
    count(ledger.read),
    count(ledger.accepted),
    count(ledger.rejected),
    count(ledger.identical),
    count(ledger.superseded),
    count(ledger.used),
    count(ledger.unassigned),
    count(ledger.afterAsOf),
    balance(ledger),
  ]);
  return (
    <Part title="Every row" id="rows">
      <p>
        Read = accepted + rejected + repeated. Accepted = used + unassigned + after as-of. Repeated rows are
        identical, or superseded by a later export of the same key.
      </p>
      <Table
        narrow="scroll"
        caption="Rows below the headings, by file"
        columns={[
          { head: "File" },
          number("Read"),
          number("Accepted"),
          number("Rejected"),
          number("Identical"),
          number("Superseded"),
          number("Used"),
          number("Unassigned"),
          number("After as-of"),
          { head: "Sum" },
        ]}
        rows={rows}
        sortable
      />
      <p>
        Rejected rows stand in <a href="rejected.csv">rejected.csv</a>, each with its line, what was expected
        and what was found.
      </p>
    </Part>
  );
}

function LineLedger({ month }: { month: Month }): VNode {
  const rows = month.inputs.map((ledger): readonly Cell[] => [
    <bdi key="file">{ledger.file}</bdi>,
    ledger.kind,
    date(ledger.exported),
    count(ledger.lines),
    count(ledger.headingLines),
    count(ledger.blankLines),
    count(ledger.totalsLines),
    count(ledger.rowLines),
    count(ledger.bytes),
    <code key="hash">{ledger.sha256}</code>,
  ]);
  return (
    <Part title="Every line" id="lines">
      <p>Lines = headings + blank + totals + lines of rows read.</p>
      <Table
        narrow="scroll"
        caption="Physical lines, by file"
        columns={[
          { head: "File" },
          { head: "Kind" },
          { head: "Exported" },
          number("Lines"),
          number("Headings"),
          number("Blank"),
          number("Totals"),
          number("Of rows"),
          number("Bytes"),
          { head: "sha256", unbroken: true },
        ]}
        rows={rows}
        sortable
      />
    </Part>
  );
}

const meaning = (code: string): string =>
  code in PROBLEM_CODES ? PROBLEM_CODES[code as keyof typeof PROBLEM_CODES] : "";

interface ByCode {
  readonly code: string;
  readonly rows: number;
  readonly files: number;
  readonly examples: readonly string[];
}

/** Problems of all files by code, most frequent first within refusals (E-) and remarks (W-). */
function problemsByCode(problems: readonly ProblemCount[]): readonly ByCode[] {
  const by = new Map<string, ProblemCount[]>();
  for (const problem of problems) by.set(problem.code, [...(by.get(problem.code) ?? []), problem]);
  return [...by]
    .map(([code, same]) => ({
      code,
      rows: same.reduce((sum, { count: rows }) => sum + rows, 0),
      files: new Set(same.map(({ file }) => file)).size,
      examples: same.flatMap(({ examples }) => examples),
    }))
    .sort((a, b) => {
      if (a.code[0] !== b.code[0]) return a.code < b.code ? -1 : 1;
      return b.rows - a.rows || (a.code < b.code ? -1 : 1);
    });
}

const EXAMPLES_SHOWN = 5;

function Examples({ problem }: { problem: ByCode }): VNode {
  const shown = problem.examples.slice(0, EXAMPLES_SHOWN);
  const more = problem.rows - shown.length;
  const own = ` [${problem.code}]`;
  return (
    <>
      {shown.map((example) => (
        <p key={example}>
          <bdi>{example.endsWith(own) ? example.slice(0, -own.length) : example}</bdi>
        </p>
      ))}
      {more > 0 ? <p class="quiet">… and {whole(more)} more</p> : null}
    </>
  );
}

function Problems({ month }: { month: Month }): VNode {
  const rows = problemsByCode(month.problems).map((problem): readonly Cell[] => [
    problem.code,
    { show: whole(problem.rows), sortBy: problem.rows },
    whole(problem.files),
    meaning(problem.code),
    <Examples key="examples" problem={problem} />,
  ]);
  return (
    <Part title="What was wrong" id="problems">
      {rows.length === 0 ? (
        <p>No row was refused or remarked on.</p>
      ) : (
        <Table
          caption="E- codes refuse a row; W- codes only remark on it."
          columns={[
            { head: "Code", unbroken: true },
            number("Rows"),
            number("Files"),
            { head: "What it means" },
            { head: "Where, expected, found", wide: true, fixed: true },
          ]}
          rows={rows}
          kind="problems"
          sortable
        />
      )}
    </Part>
  );
}

function Words({ month }: { month: Month }): VNode {
  const rows = month.unknownWords.map((word): readonly Cell[] => [
    <bdi key="word">{word.word}</bdi>,
    { show: whole(word.count), sortBy: word.count },
    <bdi key="column">{word.column}</bdi>,
    word.near === null ? "nothing near" : <bdi key="near">{word.near}?</bdi>,
    <bdi key="first">{`${word.firstFile}:${word.firstLine}`}</bdi>,
  ]);
  return (
    <Part title="Unknown words" id="words">
      {rows.length === 0 ? (
        <p>The fleet file knows every word.</p>
      ) : (
        <Table
          caption="Rows with a word that the fleet file doesn't know are unassigned: counted, not used. Add the word to the fleet file, or have the export mended."
          columns={[
            { head: "Word" },
            number("Rows"),
            { head: "Column" },
            { head: "Near match" },
            { head: "First row" },
          ]}
          rows={rows}
          sortable
        />
      )}
    </Part>
  );
}

const ROWS_SHOWN = 4;

function Exclusions({ month }: { month: Month }): VNode {
  const source = (row: Month["exclusions"][number]["rows"][number]): string =>
    `${month.inputs[row.file]?.file ?? `file ${row.file}`}:${row.line}`;
  const rows = month.exclusions.map((exclusion): readonly Cell[] => [
    <bdi key="serial">{month.serials[exclusion.component] ?? String(exclusion.component)}</bdi>,
    <bdi key="reason">{exclusion.reason}</bdi>,
    <bdi key="rows">{listed(exclusion.rows.map(source), ROWS_SHOWN)}</bdi>,
  ]);
  return (
    <Part title="Excluded" id="excluded">
      {rows.length === 0 ? (
        <p>No component or row with accepted data was left out of the lives.</p>
      ) : (
        <Table
          caption="Components, or rows of them, that could not enter the lives"
          columns={[{ head: "Serial" }, { head: "Why" }, { head: "Rows" }]}
          rows={rows}
          sortable
        />
      )}
    </Part>
  );
}

/** Files read alike: the same findings about their format but for counts in them. */
function readAlike(month: Month): readonly (readonly Ledger[])[] {
  const alike = new Map<string, Ledger[]>();
  for (const ledger of month.inputs) {
    const key = JSON.stringify([ledger.kind, ledger.format.map((line) => line.replace(/\d+/g, "#"))]);
    const group = alike.get(key);
    if (group === undefined) alike.set(key, [ledger]);
    else group.push(ledger);
  }
  return [...alike.values()];
}

const FILES_NAMED = 2;

function FormatOf({ files }: { files: readonly Ledger[] }): VNode {
  const [first] = files;
  return (
    <div>
      <h3>
        <bdi>
          {listed(
            files.map(({ file }) => file),
            FILES_NAMED,
          )}
        </bdi>
      </h3>
      <ul>
        {(first?.format ?? []).map((line) => (
          <li key={line}>
            <bdi>{line}</bdi>
          </li>
        ))}
      </ul>
    </div>
  );
}

function Formats({ month }: { month: Month }): VNode {
  return (
    <Part title="How files were read" id="formats">
      <p>Files read alike stand together; counts in the lines are those of the first.</p>
      {readAlike(month).map((files) => (
        <FormatOf key={files[0]?.file} files={files} />
      ))}
    </Part>
  );
}

export function DataPage({ month }: { month: Month }): VNode {
  const title = dataFinding(month);
  return (
    <Page title={title} month={month} path="data.html">
      <h1>{title}</h1>
      <RowLedger month={month} />
      <Problems month={month} />
      <Words month={month} />
      <Exclusions month={month} />
      <LineLedger month={month} />
      <Formats month={month} />
    </Page>
  );
}
