/**
 * Each answer in words that an officer could read out: what to do, the number with its bound and confidence, the reason,
 * and what would settle it. No adjective that isn't measured.
 */
import { type Rounding, roundedDigits } from "../math/rounded.ts";
import type { Decided, WeighedRisk } from "./decide.ts";
import type { Bounded, EvidenceOutcome, RiskAtInterval } from "./month-result.ts";
import { UNSAFE, worse } from "./risks.ts";

export interface SentenceInput {
  readonly decided: Decided;
  readonly presentH: number;
  readonly confidence: number;
  /** Confidence that an extension is tested at; stricter the more reviews there were. */
  readonly extensionConfidence: number;
  readonly risks: readonly RiskAtInterval[];
  readonly acceptable: { readonly overLimitPerInspection: number; readonly unsafeBeforeSeen: number };
  /** Rules that apply, and those of them that failed. */
  readonly rulesAsked: number;
  readonly failed: readonly EvidenceOutcome[];
  readonly functionalFailures: WeighedRisk;
  readonly whyNoBound: string;
  /** Months at the present pace until the bound would hold, if the estimate stays; null: not by waiting. */
  readonly monthsToSettle: number | null;
}

export function sentenceOf(input: SentenceInput): string {
  const { decided, presentH } = input;
  const risk = decided.governing === null ? null : told(input, decided.governing, presentH);
  switch (decided.row) {
    case 1:
      return `${shortenTo(decided)} At ${presentH} h ${risk?.surelyOver ?? NO_RISK}`;
    case 2:
      return `Keep ${presentH} h, the approved interval: these data set no bound on any risk. ${input.whyNoBound}`;
    case 3:
      return `${shortenTo(decided)} At ${presentH} h ${risk?.likelyOver ?? NO_RISK}`;
    case 4:
      return `Keep ${presentH} h, which these data do not demonstrate yet: ${risk?.notBounded ?? NO_RISK}${settleText(input)}`;
    case 5:
      return `Extend from ${presentH} h to ${decided.recommendedH} h: all ${input.rulesAsked} evidence rules that apply pass. ${extendedText(input)}`;
    case 6:
      return `Keep ${presentH} h. The risks would allow ${decided.candidateH} h, but ${failedText(input.failed)}`;
    case 7:
      return `Keep ${presentH} h, which is demonstrated: ${risk?.bounded ?? NO_RISK}${nextText(input)}`;
  }
}

const NO_RISK = "no risk could be computed.";

const shortenTo = ({ recommendedH }: Decided): string =>
  recommendedH === null
    ? "Shorten: no interval on the grid is demonstrated; refer to the engineering authority now."
    : `Shorten to ${recommendedH} h.`;

/** What a risk's three numbers say, in the four ways that a sentence needs. */
interface Told {
  readonly estimateOver: boolean;
  readonly surelyOver: string;
  readonly likelyOver: string;
  readonly notBounded: string;
  readonly bounded: string;
}

function told(input: SentenceInput, name: string, intervalH: number): Told | null {
  const { functionalFailures } = input;
  if (name === functionalFailures.name) {
    return (
      functionalFailures.value &&
      inWords(FAILURES, functionalFailures.value, functionalFailures.acceptable, input)
    );
  }
  const at = input.risks.find((risk) => risk.intervalH === intervalH);
  const value = at === undefined ? null : riskOf(at, name);
  if (value === null) return null;
  const { overLimitPerInspection, unsafeBeforeSeen } = input.acceptable;
  return name === UNSAFE
    ? inWords(UNSEEN, value, unsafeBeforeSeen, input)
    : inWords(OVER_LIMIT, value, overLimitPerInspection, input);
}

const riskOf = (
  { overLimitPerInspection: { life, wear }, unsafeBeforeSeen }: RiskAtInterval,
  name: string,
) => (name === UNSAFE ? unsafeBeforeSeen : worse(life, wear));

/** How a quantity is said: the words after its number, and how the number is written. */
interface Quantity {
  readonly of: string;
  readonly write: (value: number, digits: number, rounding?: Rounding) => string;
}

const percent: Quantity["write"] = (value, digits, rounding) =>
  `${roundedDigits(100 * value, digits, rounding)} %`;
const OVER_LIMIT: Quantity = { of: "of looks find a component over its limit", write: percent };
const UNSEEN: Quantity = {
  of: "of the components that reach their limit pass the unsafe-at limit before a look sees them",
  write: percent,
};
const FAILURES: Quantity = {
  of: "functional failures come in 1000 flight hours",
  write: (value, digits, rounding) => `${roundedDigits(value, digits, rounding)}`,
};

function inWords(
  { of, write }: Quantity,
  { estimate, lower, upper }: Bounded,
  acceptable: number,
  { confidence }: SentenceInput,
): Told {
  const sure = `with ${percent(confidence, 4)} confidence`;
  // Each form writes only its own numbers, with digits enough to tell these apart; the bound is rounded outward.
  const form = (bound: number | null, outward: Rounding, say: (of: Written) => string): string => {
    const written = [estimate, bound, acceptable].map((value, i): Rounded | null =>
      value === null ? null : { value, rounding: i === 1 ? outward : "nearest" },
    );
    const digits = digitsFor(written);
    const words = {
      number: write(estimate, digits),
      bound: bound === null ? null : write(bound, digits, outward),
    };
    return `${say(words)}; ${write(acceptable, digits)} is acceptable.`;
  };
  return {
    estimateOver: estimate > acceptable,
    surelyOver: form(
      lower,
      "down",
      ({ number, bound }) => `${sure} at least ${bound ?? number} ${of} (best estimate ${number})`,
    ),
    likelyOver: form(upper, "up", ({ number, bound }) => {
      const atMost = bound === null ? "no upper bound can be set" : `${sure} at most ${bound}`;
      return `by the best estimate ${number} ${of} (${atMost})`;
    }),
    notBounded: form(upper, "up", ({ number, bound }) => {
      const known =
        bound === null ? "no upper bound can be set" : `${sure} it is only known to be at most ${bound}`;
      return `the best estimate is that ${number} ${of}, but ${known}`;
    }),
    bounded: form(upper, "up", ({ number, bound }) =>
      bound === null ? `by the best estimate ${number} ${of}` : `${sure} at most ${bound} ${of}`,
    ),
  };
}

/** An estimate and the bound beside it, in words. */
interface Written {
  readonly number: string;
  readonly bound: string | null;
}

interface Rounded {
  readonly value: number;
  readonly rounding: Rounding;
}

/** As many significant digits, two to four, as keep numbers that differ from reading the same. */
function digitsFor(written: readonly (Rounded | null)[]): number {
  const numbers = written.filter((each) => each !== null);
  const distinct = new Set(numbers.map(({ value }) => value.toPrecision(6))).size;
  const told = (digits: number) =>
    new Set(numbers.map(({ value, rounding }) => roundedDigits(value, digits, rounding))).size;
  return [2, 3].find((digits) => told(digits) === distinct) ?? 4;
}

/** What waiting would do for a bound that doesn't hold. */
function settleText({ monthsToSettle }: SentenceInput): string {
  if (monthsToSettle === null) return "";
  if (monthsToSettle > 120) return " At the present pace ten more years of looks would not settle it.";
  return ` About ${monthsToSettle} more ${monthsToSettle === 1 ? "month" : "months"} of looks at the present pace would settle it, if the estimate stays.`;
}

/** After an extension: the risk that is nearest to what is acceptable at the new interval. */
function extendedText(input: SentenceInput): string {
  const intervalH = input.decided.recommendedH!;
  const name = nearest(input, intervalH);
  const at = name === null ? null : told(input, name, intervalH);
  return `At ${intervalH} h ${at?.bounded ?? NO_RISK}`;
}

/** Why nothing longer is demonstrated. */
function nextText(input: SentenceInput): string {
  const { decided, presentH, risks, confidence, extensionConfidence } = input;
  const longestH = decided.longestByBoundH ?? presentH;
  if (longestH > presentH) {
    return ` Of longer intervals ${longestH} h holds at ${percent(confidence, 4)} confidence, but not at the ${percent(extensionConfidence, 6)} that this review asks for.`;
  }
  const next = risks.find(({ intervalH }) => intervalH > presentH);
  if (next === undefined) return " It is the longest interval of the grid.";
  const name = nearest(input, next.intervalH);
  const at = name === null ? null : told(input, name, next.intervalH);
  return ` ${next.intervalH} h is not: ${(at?.estimateOver ? at.likelyOver : at?.notBounded) ?? NO_RISK}`;
}

/** Of the risks at an interval, the one whose bound is the largest share of what is acceptable. */
function nearest({ risks, acceptable }: SentenceInput, intervalH: number): string | null {
  const at = risks.find((risk) => risk.intervalH === intervalH);
  if (at === undefined) return null;
  const share = (value: Bounded | null, limit: number) =>
    value === null ? Number.NEGATIVE_INFINITY : (value.upper ?? Number.POSITIVE_INFINITY) / limit;
  const unsafe = share(at.unsafeBeforeSeen, acceptable.unsafeBeforeSeen);
  const over = share(riskOf(at, "over limit"), acceptable.overLimitPerInspection);
  if (Math.max(unsafe, over) === Number.NEGATIVE_INFINITY) return null;
  return unsafe > over ? UNSAFE : "over limit";
}

/** Tells the first failed rule with what would settle it, and names the others. */
function failedText(failed: readonly EvidenceOutcome[]): string {
  const [first, ...rest] = failed;
  if (!first) return "no rule could be named.";
  const count = failed.length === 1 ? "one evidence rule fails" : `${failed.length} evidence rules fail`;
  const settle = first.settle === null ? "" : ` What would settle it: ${first.settle}.`;
  const others = rest.length === 0 ? "" : ` Also failed: ${rest.map(({ rule }) => rule).join("; ")}.`;
  return `${count}. The rule "${first.rule}" found ${first.found}; needed: ${first.needed}.${settle}${others}`;
}
