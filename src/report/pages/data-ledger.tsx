/** The ledger of every row and every physical line, file by file, with its arithmetic. */
import type { VNode } from "preact";
import type { Month } from "../../interval/month-result.ts";
import { Part } from "../layout.tsx";
import { date, whole } from "../number-format.ts";
import { type Cell, Table } from "../table.tsx";

export type Ledger = Month["inputs"][number];

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

/** What became of the rows of each export. */
export function RowLedger({ month }: { month: Month }): VNode {
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
        identical, or superseded by a later export of the same key. The latest date in the exports is{" "}
        {date(month.latestDay)}.
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

/** What the physical lines of each file were. */
export function LineLedger({ month }: { month: Month }): VNode {
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
