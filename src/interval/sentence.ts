/** Each answer in one sentence that an officer could read out: number first, then the reason, no unmeasured adjective. */

import type { Decided, WeighedRisk } from "./decide.ts";
import type { Bounded, EvidenceOutcome, RiskAtInterval } from "./month-result.ts";
import { worse } from "./risks.ts";

export interface SentenceInput {
  readonly decided: Decided;
  readonly presentH: number;
  readonly confidence: number;
  readonly risks: readonly RiskAtInterval[];
  readonly acceptable: { readonly overLimitPerInspection: number; readonly unsafeBeforeSeen: number };
  readonly failed: readonly EvidenceOutcome[];
  readonly functionalFailures: WeighedRisk;
  readonly whyNoBound: string;
}

export function sentenceOf(input: SentenceInput): string {
  const { decided, presentH } = input;
  const at = describeRisk(input, decided.recommendedH ?? presentH);
  switch (decided.row) {
    case 1:
      return `${shortenTo(decided)} At ${presentH} h even the lower bound of "${decided.governing}" is over the acceptable value: ${describeRisk(input, presentH, "lower")}`;
    case 2:
      return `Keep ${presentH} h, the approved interval: there is not enough evidence for any bound. ${input.whyNoBound}`;
    case 3:
      return `${shortenTo(decided)} At ${presentH} h the best estimate of "${decided.governing}" is over the acceptable value: ${describeRisk(input, presentH)}`;
    case 4:
      return `Keep ${presentH} h; it is not demonstrated by these data. The best estimate holds but its bound does not: ${describeRisk(input, presentH)}`;
    case 5:
      return `Extend from ${presentH} h to ${decided.recommendedH} h. Every evidence rule passes: ${at}`;
    case 6:
      return `Keep ${presentH} h. The risks would allow ${decided.candidateH} h, but ${failedText(input.failed)}`;
    case 7:
      return `Keep ${presentH} h. It is demonstrated, and no longer interval is: ${at}`;
  }
}

const shortenTo = ({ recommendedH }: Decided): string =>
  recommendedH === null
    ? "Shorten: no interval on the grid is demonstrated; refer to the engineering authority now."
    : `Shorten to ${recommendedH} h.`;

/** Names the first failed rule with what would settle it, and counts the rest. */
function failedText(failed: readonly EvidenceOutcome[]): string {
  const [first, ...rest] = failed;
  if (!first) return "no rule could be named.";
  const more =
    rest.length === 0 ? "" : ` ${rest.length} more ${rest.length === 1 ? "rule fails" : "rules fail"}.`;
  const settle = first.settle === null ? "" : ` It would be settled by: ${first.settle}.`;
  return `the rule "${first.rule}" fails: found ${first.found}, needed ${first.needed}.${settle}${more}`;
}

/** The decided risk at an interval: estimate, the one-sided bound that matters, and what is acceptable. */
function describeRisk(
  { decided, risks, acceptable, confidence, functionalFailures }: SentenceInput,
  intervalH: number,
  side: "lower" | "upper" = "upper",
): string {
  const at = risks.find((risk) => risk.intervalH === intervalH);
  const bound = (value: Bounded, format: (number: number) => string) =>
    value[side] === null
      ? `no ${side} bound`
      : `${side} bound ${format(value[side])} at ${100 * confidence} % confidence`;
  if (decided.governing === functionalFailures.name && functionalFailures.value !== null) {
    const { value } = functionalFailures;
    return `${per1000(value.estimate)}, ${bound(value, per1000)}, acceptable ${per1000(functionalFailures.acceptable)}.`;
  }
  if (!at || decided.governing === null) return "no risk could be computed.";
  const unsafe = decided.governing === "unsafe before it is seen";
  const overLimit = worse(at.overLimitPerInspection.life, at.overLimitPerInspection.wear);
  const value = unsafe ? at.unsafeBeforeSeen : overLimit;
  if (value === null) return `${decided.governing} could not be computed at ${intervalH} h.`;
  const limit = unsafe ? acceptable.unsafeBeforeSeen : acceptable.overLimitPerInspection;
  return `${decided.governing} is ${share(value.estimate)}, ${bound(value, share)}, acceptable ${share(limit)}.`;
}

/** A rate with two significant digits. */
const per1000 = (value: number): string => `${Number(value.toPrecision(2))} per 1000 h`;

/** A chance with two significant digits, as per cent. */
const share = (value: number): string => (value === 0 ? "0 %" : `${Number((100 * value).toPrecision(2))} %`);
