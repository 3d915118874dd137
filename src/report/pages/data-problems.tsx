/** What was wrong with the exports: problems by code, with what they mean and their first examples. */
import type { VNode } from "preact";
import type { Month, ProblemCount } from "../../interval/month-result.ts";
import { PROBLEM_CODES } from "../../problems.ts";
import { Part } from "../layout.tsx";
import { whole } from "../number-format.ts";
import { type Cell, Table } from "../table.tsx";

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

export function Problems({ month }: { month: Month }): VNode {
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
            { head: "Rows", numeric: true },
            { head: "Files", numeric: true },
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
