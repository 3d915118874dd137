/** What would change the answer: the longest interval that would be demonstrated under other settings. */
import type { VNode } from "preact";
import type { Bounded, OtherSetting, Recommendation } from "../../interval/month-result.ts";
import { answerInWords, worseOverLimit } from "../group-name.ts";
import { counted, fixed, hours, listed, millimetres, share, shareAgainst } from "../number-format.ts";
import type { OfficerProps } from "./interval-proposal.tsx";

/** At the first interval past what is demonstrated: the share that would have to be acceptable for it to hold. */
function nextStep({ recommendation, month }: OfficerProps): readonly string[] {
  const { acceptable } = month.fleet;
  const next = recommendation.risks.find((risk) => risk.intervalH > (recommendation.longestByBoundH ?? 0));
  if (next === undefined) return [];
  const at = hours(next.intervalH);
  const lines: string[] = [];
  const over = (bounded: Bounded | null, level: number, what: string): void => {
    if (bounded === null || bounded.upper === null || bounded.upper <= level) return;
    lines.push(
      `At ${at} the bound on ${what} is ${shareAgainst(bounded.upper, level)}: it would hold if that much were acceptable, in place of ${share(level)}.`,
    );
  };
  over(worseOverLimit(next)?.share ?? null, acceptable.overLimitPerInspection, "over-limit finds per look");
  over(next.unsafeBeforeSeen, acceptable.unsafeBeforeSeen, "parts unsafe before they are seen");
  return lines;
}

const longest = (longestH: number | null): string => (longestH === null ? "none" : hours(longestH));

/** "Detection chance 95 %: 500 h; 80 %: none." Nothing where none of them moves the answer. */
function settings(
  what: string,
  tried: readonly OtherSetting[],
  write: (value: number) => string,
  now: number | null,
): readonly string[] {
  if (tried.length === 0) return [];
  if (tried.every(({ longestH }) => longestH === now)) {
    return [`${what} of ${listed(tried.map(({ value }) => write(value)))} would change nothing.`];
  }
  return [
    `${what}: ${tried.map(({ value, longestH }) => `${write(value)}, ${longest(longestH)}`).join("; ")}.`,
  ];
}

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
    `Replacing at ${millimetres(limit.limitMm, 3)} in place of ${millimetres(replaceAtMm)} would make ${at} hold, by the wear readings: ${fixed(limit.replacementsPer1000H, 2)} replacements per 1000 h of a component, in place of ${fixed(limit.replacementsPer1000HAtLimit, 2)}.`,
  ];
}

function yearMore({ wouldChange: { yearMore: year }, longestByBoundH }: Recommendation): readonly string[] {
  if (year === null) return ["No look was made in the last 12 months: at this pace a year adds nothing."];
  const looks = counted(year.more, "look");
  return [
    year.longestH === longestByBoundH
      ? `A year more at the present pace, ${looks}, would change nothing if the estimates stay.`
      : `A year more at the present pace, ${looks}, would show ${longest(year.longestH)} if the estimates stay (roughly: bounds narrow with the square root of the looks).`,
  ];
}

function seals({ wouldChange: { sealsIn } }: Recommendation): readonly string[] {
  if (sealsIn === null) return [];
  return [
    `Scenario only: with every seal in tolerance, at ${share(sealsIn.rateShare)} of the rate as flown, ${hours(sealsIn.longestH)}.`,
  ];
}

export function WouldChange(props: OfficerProps): VNode {
  const { recommendation, group } = props;
  const { wouldChange, longestByBoundH } = recommendation;
  const early = answerInWords({ ...recommendation, ...recommendation.withEarlyRemovalsCensored });
  const lines = [
    ...nextStep(props),
    ...settings("Detection chance", wouldChange.detection, share, longestByBoundH),
    ...settings("Unsafe-at limit", wouldChange.unsafeAt, (value) => millimetres(value), longestByBoundH),
    ...tighter(recommendation, group.replaceAtMm),
    ...yearMore(recommendation),
    ...seals(recommendation),
    early === answerInWords(recommendation)
      ? "Counting early removals as if they had been good changes nothing."
      : `Counting early removals as if they had been good: ${early}.`,
  ];
  return (
    <div>
      <h3>What would change the answer</h3>
      <p class="small">
        Longest interval shown to hold; as things are: {longest(longestByBoundH)}. None of this is
        recommended.
      </p>
      <ul>
        {lines.map((line) => (
          <li key={line}>{line}</li>
        ))}
      </ul>
    </div>
  );
}
