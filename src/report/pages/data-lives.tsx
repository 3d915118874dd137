/** What of the accepted rows entered the lives: what was left out and why, and what said where hours were flown. */
import type { VNode } from "preact";
import type { Month } from "../../interval/month-result.ts";
import { componentCount, type EnvironmentSource } from "../../records/life.ts";
import { Part } from "../layout.tsx";
import { counted, listed, share, whole } from "../number-format.ts";
import { type Cell, Table } from "../table.tsx";

type Excluded = Month["exclusions"][number];

const LINES_NAMED = 4;
/** So few are counted at a glance. */
const FEW = 20;
/** Longer tables are no page. */
const ROWS_SHOWN = 500;

interface Reason {
  readonly reason: string;
  readonly components: number;
  readonly rows: number;
}

function byReason(exclusions: readonly Excluded[]): readonly Reason[] {
  const by = new Map<string, Excluded[]>();
  for (const one of exclusions) {
    const same = by.get(one.reason);
    if (same === undefined) by.set(one.reason, [one]);
    else same.push(one);
  }
  return [...by].map(([reason, same]) => ({
    reason,
    components: componentCount(same),
    rows: same.reduce((sum, { rows }) => sum + rows.length, 0),
  }));
}

const number = (value: number): Cell => ({ show: whole(value), sortBy: value });

function ReasonTable({ month }: { month: Month }): VNode {
  return (
    <Table
      caption="Why accepted rows are in no life: reasons, with their counts"
      columns={[{ head: "Why" }, { head: "Components", numeric: true }, { head: "Rows", numeric: true }]}
      rows={byReason(month.exclusions).map((one) => [
        <bdi key="reason">{one.reason}</bdi>,
        number(one.components),
        number(one.rows),
      ])}
      sortable
    />
  );
}

/** Components and rows that could not enter the lives, with the reason. */
export function Exclusions({ month }: { month: Month }): VNode {
  const source = (row: Excluded["rows"][number]): string =>
    `${month.inputs[row.file]?.file ?? `file ${row.file}`}:${row.line}`;
  const shown = month.exclusions.slice(0, ROWS_SHOWN);
  const more = month.exclusions.length - shown.length;
  return (
    <Part title="Excluded" id="excluded">
      {shown.length === 0 ? (
        <p>No component or row with accepted data was left out of the lives.</p>
      ) : (
        <>
          {month.exclusions.length > FEW ? <ReasonTable month={month} /> : null}
          <Table
            caption="Components, or rows of them, that could not enter the lives"
            columns={[{ head: "Serial" }, { head: "Why" }, { head: "Rows" }]}
            rows={shown.map((exclusion): readonly Cell[] => [
              <bdi key="serial">{month.serials[exclusion.component] ?? String(exclusion.component)}</bdi>,
              <bdi key="reason">{exclusion.reason}</bdi>,
              <bdi key="rows">{listed(exclusion.rows.map(source), LINES_NAMED)}</bdi>,
            ])}
            sortable
          />
          {more > 0 ? <p>… and {whole(more)} more; the command trace shows any component.</p> : null}
        </>
      )}
    </Part>
  );
}

const SOURCES: readonly (readonly [EnvironmentSource, string])[] = [
  ["flying", "Hours flown by aircraft and month (flying export)"],
  ["base", "Base of the fitted aircraft (installed export)"],
  ["later reading", "Only what the later reading records"],
];

/** What said where the hours of each piece of life were flown; the last fallback is a flag. */
export function WhereFlown({ month }: { month: Month }): VNode {
  const counts = new Map<EnvironmentSource, number>();
  let pieces = 0;
  for (const { lives } of month.groups) {
    for (const { environmentFrom } of lives) {
      counts.set(environmentFrom, (counts.get(environmentFrom) ?? 0) + 1);
      pieces++;
    }
  }
  const weak = counts.get("later reading") ?? 0;
  return (
    <Part title="Where hours were flown" id="flown">
      <p>
        {pieces === 0
          ? "No life was made."
          : weak === 0
            ? "Every piece of life has its environment from hours flown or from the fitted aircraft’s base."
            : `${share(weak / pieces)} of ${counted(pieces, "piece")} of life: some of the hours were placed only by the environment that the later reading records, since neither hours flown nor a base says where the aircraft was. lives.csv marks them (environment_from).`}
      </p>
      <Table
        caption="Pieces of life by the weakest of what placed their hours"
        columns={[{ head: "What said where" }, { head: "Pieces of life", numeric: true }]}
        rows={SOURCES.map(([source, text]) => [text, number(counts.get(source) ?? 0)])}
        compact
      />
    </Part>
  );
}
