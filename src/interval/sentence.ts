/**
 * Each answer in words that an officer could read out: what to do, the number with its bound and confidence, the reason,
 * and what would settle it. No adjective that isn't measured.
 */
import type { Decided, IntervalRisks } from "./decide.ts";
import type { EvidenceOutcome } from "./month-result.ts";
import { percent, riskInWords } from "./risk-sentence.ts";
import { likelyOver, nearestLimit, surelyOver, type WeighedRisk } from "./weighed-risk.ts";

export interface SentenceInput {
  readonly decided: Decided;
  readonly presentH: number;
  readonly confidence: number;
  /** Confidence that an extension is tested at; stricter the more reviews there were. */
  readonly extensionConfidence: number;
  /** Risks at every interval of the grid, as the decision weighed them. */
  readonly grid: readonly IntervalRisks[];
  /** Rules that apply, and those of them that failed. */
  readonly rulesAsked: number;
  readonly failed: readonly EvidenceOutcome[];
  readonly functionalFailures: WeighedRisk;
  readonly whyNoBound: string;
  /** Months at the present pace until the bound would hold, if the estimate stays; null: not by waiting. */
  readonly monthsToSettle: number | null;
}

export function sentenceOf(input: SentenceInput): string {
  return answerText(input) + overText(input);
}

function answerText(input: SentenceInput): string {
  const { decided, presentH } = input;
  const governing = governingAt(input, decided.row === 5 ? decided.recommendedH! : presentH);
  const risk = governing && riskInWords(governing, input.confidence);
  switch (decided.row) {
    case 1:
    case 3:
      return `${shortenTo(decided)} At ${presentH} h`;
    case 2:
      return `Keep ${presentH} h, the approved interval: these data set no bound on any risk. ${input.whyNoBound}`;
    case 4:
      return `Keep ${presentH} h, which these data do not demonstrate yet: ${risk?.notBounded ?? NO_RISK}${governing?.value === null ? ` ${input.whyNoBound}` : settleText(input)}`;
    case 5:
      return `Extend from ${presentH} h to ${decided.recommendedH} h: all ${input.rulesAsked} evidence rules that apply pass. At ${decided.recommendedH} h ${risk?.bounded ?? NO_RISK}`;
    case 6:
      return `Keep ${presentH} h. The risks would allow ${decided.candidateH} h, but ${failedText(input.failed)}`;
    case 7:
      return `Keep ${presentH} h, which is demonstrated: ${risk?.bounded ?? NO_RISK}${nextText(input)}`;
  }
}

/** Every risk that is over at the present interval, the gravest first: the reason to shorten, and never left out of another answer. */
function overText({ decided, presentH, grid, functionalFailures, confidence }: SentenceInput): string {
  const weighed = [...(risksAt(grid, presentH) ?? []), functionalFailures];
  const shortened = decided.answer === "shorten";
  const texts = decided.over.map((name) => {
    const risk = weighed.find((one) => one.name === name)!;
    const words = riskInWords(risk, confidence);
    return surelyOver(risk) ? words.surelyOver : words.likelyOver;
  });
  return texts
    .map((text, i) =>
      shortened && i === 0 ? ` ${text}` : shortened ? ` Also over: ${text}` : ` But ${text}`,
    )
    .join("");
}

const NO_RISK = "no risk could be computed.";

const shortenTo = ({ recommendedH }: Decided): string =>
  recommendedH === null
    ? "Shorten: no interval on the grid is demonstrated; refer to the engineering authority now."
    : `Shorten to ${recommendedH} h.`;

const risksAt = (grid: readonly IntervalRisks[], intervalH: number): readonly WeighedRisk[] | undefined =>
  grid.find((at) => at.intervalH === intervalH)?.risks;

/** null where none could be computed. */
const governingAt = ({ decided, grid }: SentenceInput, intervalH: number): WeighedRisk | null =>
  risksAt(grid, intervalH)?.find(({ name }) => name === decided.governing) ?? null;

/** What waiting would do for a bound that doesn't hold. */
function settleText({ monthsToSettle }: SentenceInput): string {
  if (monthsToSettle === null) return "";
  if (monthsToSettle > 120) return " At the present pace ten more years of looks would not settle it.";
  return ` About ${monthsToSettle} more ${monthsToSettle === 1 ? "month" : "months"} of looks at the present pace would settle it, if the estimate stays.`;
}

/** Why nothing longer is demonstrated. */
function nextText(input: SentenceInput): string {
  const { decided, presentH, grid, confidence, extensionConfidence } = input;
  const longestH = decided.longestByBoundH ?? presentH;
  if (longestH > presentH) {
    return ` Of longer intervals ${longestH} h holds at ${percent(confidence, 4)} confidence, but not at the ${percent(extensionConfidence, 6)} that this review asks for.`;
  }
  const next = grid.find(({ intervalH }) => intervalH > presentH);
  if (next === undefined) return " It is the longest interval of the grid.";
  const nearest = nearestLimit(next.risks);
  const words = nearest && riskInWords(nearest, confidence);
  return ` ${next.intervalH} h is not: ${(nearest && likelyOver(nearest) ? words?.likelyOver : words?.notBounded) ?? NO_RISK}`;
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
