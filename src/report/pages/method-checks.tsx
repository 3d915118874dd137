/** How far the numbers can be trusted, for method.html: others' numbers beside ours, and fleets whose truth is known. */
import type { VNode } from "preact";
import { Part } from "../layout.tsx";
import { alignedOnPoint, percent, whole } from "../number-format.ts";
import { type Cell, Table } from "../table.tsx";
import { REFERENCE_CHECKS } from "./reference-checks.ts";
import type { StudyRow, StudyTable } from "./study-table.ts";

/** "5 × 10⁻⁴", "10⁻⁶" */
function PowerOfTen({ factor, power }: { factor: number; power: number }): VNode {
  const sign = power < 0 ? "−" : "";
  return (
    <span class="number">
      {factor === 1 ? "" : `${factor} × `}10<sup>{`${sign}${Math.abs(power)}`}</sup>
    </span>
  );
}

const scientific = (value: number): VNode => {
  const [factor, power] = value.toExponential().split("e").map(Number) as [number, number];
  return <PowerOfTen factor={factor} power={power} />;
};

/** Every estimator that another program or a publication has numbers for. */
export function CheckedAgainst(): VNode {
  return (
    <Part title="Checked against others" id="checked">
      <p>
        The same data given to this program and to another, or to one whose answer is published. The tests of
        this version measure each difference again and fail where it is larger than allowed.
      </p>
      <Table
        caption="Largest relative difference of any number compared. A value that is compared as printed can’t be nearer than its last digit."
        columns={[
          { head: "What" },
          { head: "Against" },
          { head: "Largest difference", unbroken: true },
          { head: "Allowed", unbroken: true },
        ]}
        rows={REFERENCE_CHECKS.map((check): readonly Cell[] => [
          check.what,
          check.against,
          <>
            under <PowerOfTen factor={1} power={check.underPowerOfTen} />
          </>,
          scientific(check.allowed),
        ])}
      />
    </Part>
  );
}

const count = (rows: readonly StudyRow[], pick: (row: StudyRow) => number): readonly string[] =>
  rows.map((row) => whole(pick(row)));

/** What the recommendations were worth on simulated fleets; nothing until the study has been run. */
export function KnownTruth({ study }: { readonly study: StudyTable | null }): VNode | null {
  if (study === null) return null;
  const { rows } = study;
  const numeric = (head: string) => ({ head, numeric: true });
  const columns = [
    count(rows, ({ fleets }) => fleets),
    count(rows, ({ extensions }) => extensions),
    count(rows, ({ unsafe }) => unsafe),
    alignedOnPoint(rows.map(({ unsafeUpper }) => percent(unsafeUpper))),
  ];
  return (
    <Part title="Fleets whose truth is known" id="study">
      <p>
        Fleets were simulated with their maintenance, inspections and mistakes, by a program that knows
        nothing of the formulas on this page; each was judged as a real one would be, and the answer held
        against what the simulation knows.
      </p>
      <Table
        narrow="scroll"
        caption={`Program at commit ${study.commit}, ${study.date}, seeds ${study.seeds}. Wrong: the interval that was recommended has a true risk over the acceptable one. The bound is one-sided at 95 %.`}
        columns={[
          { head: "Kind of fleet" },
          numeric("Fleets"),
          numeric("Extensions"),
          numeric("Wrong"),
          numeric("Wrong, at most %"),
        ]}
        rows={rows.map(({ kind }, at): readonly Cell[] => [kind, ...columns.map((column) => column[at])])}
      />
    </Part>
  );
}
