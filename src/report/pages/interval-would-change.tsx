/** What would change the answer: in short on page two, and as a table of other settings in the annex. */
import type { VNode } from "preact";
import type { Bounded, Recommendation } from "../../interval/month-result.ts";
import { answerInWords, worseOverLimit } from "../group-name.ts";
import { Part } from "../layout.tsx";
import { counted, fixed, hours, millimetres, share, shareAgainst } from "../number-format.ts";
import { allInText } from "../seal-words.ts";
import { type Cell, Table } from "../table.tsx";
import type { OfficerProps } from "./interval-proposal.tsx";

/** At the first interval past what is demonstrated: the share that would have to be acceptable for it to hold. */
function nextStep({ recommendation, month }: OfficerProps): readonly string[] {
  const { acceptable } = month.fleet;
  const next = recommendation.risks.find((risk) => risk.intervalH > (recommendation.longestByBoundH ?? 0));
  if (next === undefined) return [];
  const over = (bounded: Bounded | null, level: number, what: string): string[] =>
    bounded === null || bounded.upper === null || bounded.upper <= level
      ? []
      : [`${shareAgainst(bounded.upper, level, "up")} ${what}, not ${share(level)}`];
  const needed = [
    ...over(worseOverLimit(next)?.share ?? null, acceptable.overLimitPerInspection, "over limit per look"),
    ...over(next.unsafeBeforeSeen, acceptable.unsafeBeforeSeen, "unsafe before seen"),
  ];
  if (needed.length === 0) return [];
  return [`${hours(next.intervalH)} would hold if this were acceptable: ${needed.join("; ")}.`];
}

const longest = (longestH: number | null): string => (longestH === null ? "none" : hours(longestH));

function tighter(
  { wouldChange: { tighter: limit } }: Recommendation,
  replaceAtMm: number,
): readonly string[] {
  if (limit === null) return [];
  const at = hours(limit.intervalH);
  if (limit.kind === "none") {
    return [`No tighter replace-at limit down to ${millimetres(limit.triedToMm)} would make ${at} hold.`];
  }
  return [
    `Replacing at ${millimetres(limit.limitMm, 3)}, not ${millimetres(replaceAtMm)}, would make ${at} hold by the wear readings, for ${fixed(limit.replacementsPer1000H, 2)} replacements for wear per 1000 h of a component, not ${fixed(limit.replacementsPer1000HAtLimit, 2)}. Both are by the wear readings alone; the annex also counts removals for other causes.`,
  ];
}

function yearMore({ wouldChange: { yearMore: year }, longestByBoundH }: Recommendation): readonly string[] {
  if (year === null) return ["No look was made in the last 12 months: at this pace a year adds nothing."];
  const looks = counted(year.more, "look");
  const what =
    year.longestH === longestByBoundH
      ? "would change nothing"
      : `would show ${longest(year.longestH)} (roughly: bounds narrow with the square root of the looks)`;
  return [`A year more at the present pace, ${looks}, ${what}, if the estimates stay.`];
}

/** The scenario goes by the upper bound of its rate; where that makes nothing longer hold, no interval is named. */
function seals({ recommendation, month }: OfficerProps): readonly string[] {
  const { sealsIn } = recommendation.wouldChange;
  const { part, environment, standard } = recommendation.group;
  const seal = month.partWear.find((one) => one.part === part)?.seal;
  if (sealsIn === null || seal?.kind !== "fitted") return [];
  const own = seal.groups.find((one) => one.environment === environment && one.standard === standard);
  if (own === undefined) return [];
  const shown =
    sealsIn.longestH === recommendation.longestByBoundH
      ? "at its upper bound nothing longer would be shown to hold"
      : `at its upper bound ${hours(sealsIn.longestH)} would be shown to hold`;
  return [`Scenario only: with every seal in tolerance, wear at ${allInText(own)}; ${shown}.`];
}

/** Page two: what is nearest to changing the answer. */
export function WouldChange(props: OfficerProps): VNode {
  const { recommendation, group } = props;
  const early = answerInWords({ ...recommendation, ...recommendation.withEarlyRemovalsCensored });
  const lines = [
    ...nextStep(props),
    ...tighter(recommendation, group.replaceAtMm),
    ...yearMore(recommendation),
    ...seals(props),
    early === answerInWords(recommendation)
      ? "Counting early removals as if they had been good changes nothing."
      : `Counting early removals as if they had been good: ${early}.`,
  ];
  return (
    <div>
      <h3>What would change the answer</h3>
      <ul>
        {lines.map((line) => (
          <li key={line}>{line}</li>
        ))}
      </ul>
    </div>
  );
}

/** Setting, value, longest interval that would be shown to hold. */
type Row = readonly [setting: string, value: string, longest: string];

/** From the tables behind the page's sliders: other confidences, acceptable risks and limits. */
function tabulated({ whatIf }: Recommendation, confidence: number): readonly Row[] {
  if (whatIf === null) return [];
  const { confidences, riskFactors, answers, limits, upToH } = whatIf;
  const now = confidences.indexOf(confidence);
  const published = riskFactors.indexOf(1);
  const upTo = (longestH: number | null) =>
    longestH !== null && longestH >= upToH ? `${hours(upToH)}, most for one change` : longest(longestH);
  const at = (level: number, factor: number) => upTo(answers[level]?.[factor]?.longestByBoundH ?? null);
  return [
    ...confidences.flatMap((level, i): Row[] =>
      i === now ? [] : [["Confidence", share(level), at(i, published)]],
    ),
    ...riskFactors.flatMap((factor, i): Row[] =>
      i === published ? [] : [["Acceptable risks", `${fixed(factor, 2)} times`, at(now, i)]],
    ),
    ...limits.map(
      ({ limitMm, answer }): Row => [
        "Replace-at limit, by wear readings alone",
        millimetres(limitMm, 3),
        upTo(answer.longestByBoundH),
      ],
    ),
  ];
}

/** The annex: the longest interval shown to hold under other settings, one at a time. */
export function OtherSettings({ recommendation, month }: OfficerProps): VNode {
  const { detection, unsafeAt } = recommendation.wouldChange;
  const settings: readonly Row[] = [
    ...tabulated(recommendation, month.fleet.acceptable.confidence),
    ...detection.map(({ value, longestH }): Row => ["Detection chance", share(value), longest(longestH)]),
    ...unsafeAt.map(({ value, longestH }): Row => ["Unsafe-at limit", millimetres(value), longest(longestH)]),
  ];
  if (settings.length === 0) return <Part title="Other settings">No bound is there to move.</Part>;
  return (
    <Part title="Other settings">
      <Table
        narrow="scroll"
        compact
        caption={`Longest interval that would be shown to hold, one setting changed at a time; as things are: ${longest(recommendation.longestByBoundH)}. None of this is recommended.`}
        columns={[
          { head: "Setting" },
          { head: "Value", numeric: true },
          { head: "Shown to hold", numeric: true },
        ]}
        rows={settings.map((row): readonly Cell[] => row)}
      />
    </Part>
  );
}
