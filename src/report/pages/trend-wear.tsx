/** Wear under its charts: rates compared, a second opinion and the shape of wear, the watch list's record, the seal. */
import type { VNode } from "preact";
import type { Bounded, GroupResult, Month } from "../../interval/month-result.ts";
import type { RateComparison } from "../../interval/rate-comparison.ts";
import type { StandardChange } from "../../interval/standard-change.ts";
import type { RateChange } from "../../wear/rate-change.ts";
import { changeText, dateWords } from "../change-words.ts";
import { groupName, sentenceCase } from "../group-name.ts";
import {
  boundedPlain,
  boundedRate,
  brackets,
  counted,
  fixed,
  listed,
  share,
  whole,
} from "../number-format.ts";
import { type Cell, Table } from "../table.tsx";

/** What the one model of all groups rests on, and whether a change of standard shows within components. */
export function RatesCompared({ month }: { month: Month }): VNode {
  return (
    <>
      {month.partWear.map(({ part, comparison, standardChanges }) => (
        <p key={part}>
          <bdi>
            {sentenceCase(part)}: {comparisonWords(comparison)} {changeOfStandardWords(standardChanges)}
          </bdi>
        </p>
      ))}
    </>
  );
}

function comparisonWords(comparison: RateComparison): string {
  if (comparison.kind === "none")
    return `environments and standards are not compared in one model: ${comparison.why}.`;
  const { components, aircraft, readings, moved, leftOut } = comparison;
  const left = leftOut.length === 0 ? "" : ` Too few components to compare: ${listed(leftOut)}.`;
  return `one model of ${counted(readings, "reading")} of ${counted(components, "component")} on ${whole(aircraft)} aircraft; ${counted(moved, "component")} flew in more than one environment and ${moved === 1 ? "counts" : "count"} in each.${left}`;
}

function changeOfStandardWords(changes: readonly StandardChange[]): string {
  return changes
    .map(({ from, to, change }) => {
      const what = `From ${from} to ${to} on the same component`;
      if (change.kind !== "fitted")
        return `${what}: ${counted(change.components, "component")} read on both sides, too few to tell.`;
      const { components, lower, upper } = change;
      const told = lower > 0 || upper < 0 ? "" : ", not told apart from none";
      return `${what} (${counted(components, "component")}): wears ${changeText(change)} after it${told}.`;
    })
    .join(" ");
}

/** Second opinion and shape of each group, with what follows from each finding. */
export function RateOpinions({ month }: { month: Month }): VNode | null {
  const groups = month.groups.filter(({ wear }) => wear.readings > 0);
  if (groups.length === 0) return null;
  const confidence = share(month.fleet.acceptable.confidence);
  return (
    <>
      <Table
        sortable
        caption={`Second opinion and shape. Mean rate by REML; median component by Theil–Sen, one vote a component (few wild readings move it; where it is lower, a few fast components draw the mean up). Exponent of wear on hours within components: over 1 bends up. Bounds ${confidence}: two-sided for rates, each side for the exponent.`}
        columns={[
          { head: "Group" },
          { head: "Mean rate, mm per 1000 h", numeric: true },
          { head: "Median component", numeric: true },
          { head: "Exponent", numeric: true },
          { head: "What it means", wide: true },
        ]}
        rows={groups.map((group): readonly Cell[] => [
          <bdi key="name">{groupName(group.key)}</bdi>,
          rateCell(group.wear.fit?.ratePer1000H ?? null),
          rateCell(group.wearChecks.robustRatePer1000H),
          exponentText(group),
          <Consequences key="means" group={group} />,
        ])}
      />
      <WatchRecord month={month} />
    </>
  );
}

const rateCell = (rate: Bounded | null): string => (rate === null ? "–" : boundedRate(rate));

function exponentText({ wearChecks }: GroupResult): string {
  const { curvature } = wearChecks.shape;
  if (curvature.kind !== "fitted") return "–";
  return boundedPlain({ estimate: curvature.exponent, lower: curvature.lower, upper: curvature.upper });
}

function Consequences({ group }: { group: GroupResult }): VNode {
  return <>{consequences(group).join(" ")}</>;
}

/** A sentence for each thing about the shape that changes what a reader may conclude. */
function consequences({ wearChecks }: GroupResult): string[] {
  const { curvature, runningIn, runningInHours, atDate } = wearChecks.shape;
  const bend =
    curvature.kind !== "fitted"
      ? `Shape not tested: ${curvature.why}.`
      : {
          straight:
            "Straight as far as the readings tell; upper bounds of risks allow for the bend that they don’t exclude.",
          "bends up":
            "Wear speeds up: a straight line reaches the limit too late. Upper bounds of risks use the bend; estimates don’t.",
          "bends down": "Wear slows down: a straight line reaches the limit too early.",
        }[curvature.verdict];
  return [bend, ...runningInWords(runningIn, runningInHours), ...dateWords(atDate)];
}

function runningInWords(change: RateChange, hours: number | null): string[] {
  if (change.kind !== "fitted" || hours === null || (change.lower <= 0 && change.upper >= 0)) return [];
  const after = `After ${whole(hours)} h components wear ${changeText(change)} than before`;
  return [
    change.changeMmPer1000Hours < 0
      ? `${after} (running in): the first looks say too much about later ones.`
      : `${after}: young components say too little about old ones.`,
  ];
}

function WatchRecord({ month }: { month: Month }): VNode | null {
  if (month.watchRecord.length === 0) return null;
  return (
    <Table
      compact
      narrow="scroll"
      caption="The watch list’s record: each look already made, predicted from the readings before it as the list predicts (with this month’s fits), against what was found. The list begins at a chance of 5 %."
      columns={[
        { head: "Chance given" },
        { head: "Looks", numeric: true },
        { head: "Mean chance", numeric: true },
        { head: "Found over", numeric: true },
        { head: "Share found over", numeric: true },
      ]}
      rows={month.watchRecord.map(({ from, to, looks, predicted, over, share: found }): readonly Cell[] => [
        `${whole(100 * from)} to ${share(to)}`,
        whole(looks),
        share(predicted),
        whole(over),
        `${share(found.estimate)} ${brackets(found, (value, rounding) => fixed(100 * value, value < 0.01 ? 2 : 0, rounding))}`,
      ])}
    />
  );
}
