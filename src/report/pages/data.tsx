/** data.html: read by an auditor. Where is every row, what was wrong, and what was taken for what? */
import type { VNode } from "preact";
import type { Month } from "../../interval/month-result.ts";
import { readAlike } from "../../records/read-alike.ts";
import { Page, Part } from "../layout.tsx";
import { counted, listed, share, whole } from "../number-format.ts";
import { type Cell, Table } from "../table.tsx";
import { type Ledger, LineLedger, RowLedger } from "./data-ledger.tsx";
import { Exclusions, WhereFlown } from "./data-lives.tsx";
import { OddReadings } from "./data-odd.tsx";
import { Problems } from "./data-problems.tsx";

const sumOf = (month: Month, pick: (ledger: Ledger) => number): number =>
  month.inputs.reduce((total, ledger) => total + pick(ledger), 0);

/** The page's finding, its first heading. */
export function dataFinding(month: Month): string {
  const read = sumOf(month, (ledger) => ledger.read);
  const rejected = sumOf(month, (ledger) => ledger.rejected);
  const used = sumOf(month, (ledger) => ledger.used);
  if (read === 0) return "Data: no row was read";
  return `Data: ${share(used / read)} of ${counted(read, "row")} used, ${whole(rejected)} rejected`;
}

function Words({ month }: { month: Month }): VNode {
  const rows = month.unknownWords.map((word): readonly Cell[] => [
    <bdi key="word">{word.word}</bdi>,
    { show: whole(word.count), sortBy: word.count },
    <bdi key="column">{word.column}</bdi>,
    word.section,
    word.near === null ? "nothing near" : <bdi key="near">{word.near}?</bdi>,
    <bdi key="first">{`${word.firstFile}:${word.firstLine}`}</bdi>,
  ]);
  return (
    <Part title="Unknown words" id="words">
      {rows.length === 0 ? (
        <p>The fleet file knows every word.</p>
      ) : (
        <Table
          caption="A row with a word that the fleet file doesn't know is unassigned: in every total, but in a group only where something else says what the word doesn't (hours flown say the environment). Add the word to the fleet file, or have the export mended."
          columns={[
            { head: "Word" },
            { head: "Rows", numeric: true },
            { head: "Column" },
            { head: "Add it under" },
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
      {readAlike(month.inputs).map((files) => (
        <FormatOf key={files[0]?.file} files={files} />
      ))}
    </Part>
  );
}

/** The whole page. */
export function DataPage({ month }: { month: Month }): VNode {
  const title = dataFinding(month);
  return (
    <Page title={title} month={month} path="data.html">
      <h1>{title}</h1>
      <RowLedger month={month} />
      <Problems month={month} />
      <Words month={month} />
      <Exclusions month={month} />
      <OddReadings month={month} />
      <WhereFlown month={month} />
      <LineLedger month={month} />
      <Formats month={month} />
    </Page>
  );
}
