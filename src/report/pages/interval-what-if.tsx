/**
 * Sliders on the officer's page, for the screen only: what the answer would be at other settings. The script builds them
 * from the table in the section's data, every line of which was written when the page was made; without scripts the
 * section stays away and the page is complete.
 */
import type { VNode } from "preact";
import type { Recommendation } from "../../interval/month-result.ts";
import type { WhatIf, WhatIfAnswer } from "../../interval/what-if-result.ts";
import { answerInWords } from "../group-name.ts";
import { Part } from "../layout.tsx";
import { hours, millimetres, share } from "../number-format.ts";
import type { OfficerProps } from "./interval-proposal.tsx";

/** What the script reads: steps by name, and for each combination the number of its line. */
export interface WhatIfData {
  readonly sliders: readonly {
    readonly name: string;
    readonly steps: readonly string[];
    readonly at: number;
  }[];
  readonly lines: readonly string[];
  /** By step of the first slider, then of the second. */
  readonly answers: readonly (readonly number[])[];
  /** By step of the third slider; empty where there is none. */
  readonly byLimit: readonly number[];
}

/** The numbers that the sliders move between; null where there is no risk to show. */
export function whatIfData({ month, recommendation, group }: OfficerProps): WhatIfData | null {
  const { whatIf } = recommendation;
  if (whatIf === null) return null;
  const { acceptable } = month.fleet;
  const lines: string[] = [];
  const numberOf = (line: string): number => {
    const known = lines.indexOf(line);
    return known >= 0 ? known : lines.push(line) - 1;
  };
  const answers = whatIf.answers.map((row) =>
    row.map((answer) => numberOf(lineOf(recommendation, answer, whatIf))),
  );
  const byLimit = whatIf.limits.map(({ answer }) =>
    numberOf(`By the wear method alone: ${lineOf(recommendation, answer, whatIf)}`),
  );
  const risk = (factor: number): string => {
    const overLimit = `over limit ${share(Math.min(1, factor * acceptable.overLimitPerInspection))} of looks`;
    if (group.unsafeAtMm === null) return overLimit;
    return `${overLimit}, unsafe ${share(Math.min(1, factor * acceptable.unsafeBeforeSeen))}`;
  };
  const limits = whatIf.limits.map(({ limitMm }) => millimetres(limitMm, 3));
  return {
    sliders: [
      {
        name: "Confidence",
        steps: whatIf.confidences.map((value) => share(value)),
        at: whatIf.confidences.indexOf(acceptable.confidence),
      },
      { name: "Acceptable risk", steps: whatIf.riskFactors.map(risk), at: whatIf.riskFactors.indexOf(1) },
      ...(limits.length < 2
        ? []
        : [
            {
              name: "Replace-at limit, by the wear method alone",
              steps: limits,
              at: limits.indexOf(millimetres(group.replaceAtMm, 3)),
            },
          ]),
    ],
    lines,
    answers,
    byLimit,
  };
}

/** "Keep 400 h: …. Demonstrated up to 350 h." */
function lineOf(recommendation: Recommendation, answer: WhatIfAnswer, { upToH }: WhatIf): string {
  const words = answerInWords({
    ...recommendation,
    recommendation: answer.answer,
    recommendedIntervalH: answer.recommendedH,
  });
  const { longestByBoundH } = answer;
  const demonstrated =
    longestByBoundH === null
      ? "No interval is demonstrated."
      : longestByBoundH >= upToH
        ? `Demonstrated to ${hours(upToH)}, the most that one change may reach.`
        : `Demonstrated to ${hours(longestByBoundH)}.`;
  return `${words}${reasonOf(answer, recommendation.presentIntervalH)}. ${demonstrated}`;
}

function reasonOf({ row, candidateH }: WhatIfAnswer, presentH: number): string {
  switch (row) {
    case 1:
      return `; at ${hours(presentH)} even the lower bound of a risk is over`;
    case 3:
      return `; at ${hours(presentH)} the best estimate of a risk is over`;
    case 4:
      return "; the best estimates hold, a bound does not";
    case 5:
      return "; every evidence rule passes";
    case 6:
      return `; the risks would allow ${hours(candidateH ?? presentH)}, evidence rules do not`;
    case 7:
      return "; it is demonstrated, and nothing longer is";
    default:
      return "";
  }
}

/** Sliders that show other settings' answers where scripts run. */
export function WhatIfSliders(props: OfficerProps): VNode | null {
  const data = whatIfData(props);
  if (data === null) return null;
  return (
    <Part title="What if" kind="what-if screen" data={{ "data-what-if": JSON.stringify(data), hidden: true }}>
      <p class="small">
        Answers at other settings, worked out when this page was made; at another confidence a little more
        roughly, so that close to a limit one may be a step off. The rest of the page stays as published.
        {data.sliders.length < 3
          ? null
          : " The limit moves the wear method alone, since the lives know only the limit at which their components came off; so it is moved by itself."}
      </p>
    </Part>
  );
}

/** Heads the page while a slider is off the published settings: the one heading then shown of the first rank. */
export const WhatIfHead = (): VNode => (
  <h1 class="what-if-head screen" hidden>
    What-if: not the recommendation
  </h1>
);
