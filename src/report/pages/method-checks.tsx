/** How far the numbers can be trusted, for method.html: others' numbers beside ours, and fleets whose truth is known. */
import type { VNode } from "preact";
import type { Counted, StudyTable } from "../../interval/study-table.ts";
import { sentenceCase } from "../group-name.ts";
import { Part } from "../layout.tsx";
import { fixed, percent, whole } from "../number-format.ts";
import { type Cell, Table } from "../table.tsx";
import { REFERENCE_CHECKS } from "./reference-checks.ts";

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
          sentenceCase(check.what),
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

/** "2 of 140 (at most 5.1 %)" */
const counted = ({ n, of, upper }: Counted): string =>
  of === 0 ? "none asked" : `${n} of ${of} (at most ${percent(upper, "up")} %)`;

/** What the recommendations were worth on simulated fleets; nothing until the study has been run. */
export function KnownTruth({ study }: { readonly study: StudyTable | null }): VNode | null {
  if (study === null) return null;
  const { all, rows, overshoot, power, powerBy, needless } = study;
  const once = study.runs === 1 ? "once" : `${study.runs} times`;
  return (
    <Part title="Fleets whose truth is known" id="study">
      <p>
        Fleets were simulated with their flying, wear, gauges, mechanics and mistakes, judged from their
        exports as a real one would be, and the answer held against true risks. Those were found by simulating
        the maintenance itself for a long time at each interval, not by the formulas of this page. An
        extension is unsafe where a true risk at the longer interval is over the acceptable one.
      </p>
      <Table
        narrow="scroll"
        caption={`Program at commit ${study.commit}, ${study.date}; seeds ${study.seeds}, run ${once}. Limits: Clopper and Pearson, 95 %. A batch that comes after the decision can’t be seen in any record: it is shown, and left out of the last row.`}
        columns={[
          { head: "Kind of fleet" },
          { head: "Fleets", numeric: true },
          { head: "Unsafe, of the extensions given" },
          { head: "Of those, with 200 components or more" },
          { head: "Ever extended at three yearly reviews, where any extension is unsafe" },
          { head: "Risk over twice the acceptable one and not shortened, 60 components or looks seen" },
          { head: "The same, fewer seen" },
        ]}
        rows={[...rows, all].map((row): readonly Cell[] => [
          row.kind,
          whole(row.fleets),
          counted(row.unsafe),
          counted(row.unsafeWhereMany),
          counted(row.everExtended),
          counted(row.missed),
          counted(row.missedWhereFew),
        ])}
      />
      {overshoot !== null && (
        <p>
          At the intervals extended to, the larger true risk was {overshoot.p95.toFixed(2)} times the
          acceptable one at the 95th percentile of extensions, and {fixed(overshoot.largest, 2, "up")} times
          at most.
        </p>
      )}
      <p>
        Caution has a price. Of gentle fleets with an unsafe-at limit, 60 components and four years of record,
        whose interval could be half as long again if the rates were known exactly, {counted(power)} got an
        extension. Of all kinds so large, by how much longer the interval could be with the rates known
        exactly:
      </p>
      <Table
        caption="Extensions given, of those that could have been"
        columns={[{ head: "Could be, times the present interval" }, { head: "Extended" }]}
        rows={powerBy.map(({ from, to, extended }): readonly Cell[] => [
          to === null ? `${from} or more` : `${from} to ${to}`,
          extended.of === 0 ? "none" : `${extended.n} of ${extended.of}`,
        ])}
      />
      <p>
        Of the fleets whose present interval was truly acceptable, {counted(needless)} were told to shorten
        it: the risks of this page count every look as late as its tolerance allows and every component as
        reaching the limit just after a look, which is harder than what happens.
      </p>
      <Table
        caption="One-sided 95 % upper bounds at the present interval that lay under the true risk: five in a hundred may"
        columns={[
          { head: "Kind of fleet" },
          { head: "Share of looks over the limit, by wear" },
          { head: "Unsafe before it is seen" },
        ]}
        rows={[...rows, all].map((row): readonly Cell[] => [
          row.kind,
          counted(row.wearBoundUnder),
          counted(row.unsafeBoundUnder),
        ])}
      />
    </Part>
  );
}
