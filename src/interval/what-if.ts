/**
 * What the answer would be under other settings: tables for the sliders of an officer's page, made with the decision
 * table itself. Other confidences and acceptable risks move both methods; another limit moves the wear method alone,
 * as the lives know only the limit that their components were removed at.
 *
 * The hours to the first inspection need no question of their own: the share at an interval holds the first look of a
 * new component, which comes no earlier. The evidence rules are those of the page, but for the acceptable risks that
 * some of them compare with.
 */
import type { Acceptable, Fleet } from "../fleet/fleet.ts";
import { type BoundAsker, boundAsker } from "./bound-asker.ts";
import { type Decided, type DecisionInput, decide, type IntervalRisks } from "./decide.ts";
import type { GroupEvidence } from "./evidence.ts";
import { extensionConfidence } from "./history.ts";
import type { Bounded, RiskAtInterval } from "./month-result.ts";
import { justOver, UNSAFE, weighed, worse } from "./risks.ts";
import type { WeighedRisk } from "./weighed-risk.ts";
import { limitRisks } from "./what-if-limits.ts";
import type { WhatIf, WhatIfAnswer } from "./what-if-result.ts";

/** One-sided confidences that are tried, besides the fleet file's own. */
const CONFIDENCES = [0.8, 0.9, 0.95, 0.99];
/** Both acceptable risks times these. */
const RISK_FACTORS = [0.5, 0.75, 1, 1.5, 2];

/** What the published decision was made from. */
export interface WhatIfQuestion {
  readonly fleet: Fleet;
  readonly evidence: GroupEvidence;
  /** How late a look may be, as a share of the interval. */
  readonly tolerance: number;
  readonly published: DecisionInput;
  readonly risks: readonly RiskAtInterval[];
  /** Number of the review at which an extension would be decided. */
  readonly review: number;
  /** Functional failures per 1000 h at a confidence. */
  readonly failuresAt: (confidence: number) => Bounded | null;
  /** Whether every evidence rule passes at a longer interval with other acceptable risks. */
  readonly mayExtendTo: (candidateH: number, acceptable: Acceptable) => boolean;
}

/** null where the present interval has no bound at all: then there is nothing to move. */
export function whatIf(whole: WhatIfQuestion): WhatIf | null {
  const { fleet, published, evidence } = whole;
  const present = published.grid.find(({ intervalH }) => intervalH === published.presentH);
  if (!present?.risks.some(({ value }) => value?.upper != null)) return null;
  // What is longer than one change may make it has no say in any answer.
  const longestH = published.presentH * (1 + Math.max(0, published.largestChange)) * (1 + 1e-9);
  const question = { ...whole, risks: whole.risks.filter(({ intervalH }) => intervalH <= longestH) };
  const confidences = [...new Set([...CONFIDENCES, fleet.acceptable.confidence])].sort((a, b) => a - b);
  const line = bothMethods(question);
  const limits = limitRisks(evidence, question.risks, question.tolerance, fleet.acceptable.confidence);
  return {
    confidences,
    riskFactors: RISK_FACTORS,
    answers: confidences.map((confidence) =>
      RISK_FACTORS.map((factor) => answerAt(question, line, confidence, factor)),
    ),
    limits: limits.map(({ limitMm, risks, compared, upperAt }) => {
      const asked = askedOf(weighed(risks, fleet.acceptable, evidence.part), fleet, upperAt, (name, k) => {
        const { overLimitPerInspection, unsafeBeforeSeen } = question.risks[k]!;
        const own = (name === UNSAFE ? unsafeBeforeSeen : overLimitPerInspection.wear)?.upper ?? null;
        const way = compared(name);
        return { atLeast: way === "at most" ? null : own, atMost: way === "at least" ? null : own };
      });
      return { limitMm, answer: answerAt({ ...question, risks }, asked, fleet.acceptable.confidence, 1) };
    }),
    upToH: question.risks.at(-1)!.intervalH,
  };
}

/** A risk with its upper bound, or where that is over `upTo` any number between. */
type UpperAt = (name: string, confidence: number, intervalH: number, upTo: number) => Bounded | null;

/** How the upper bound of each risk is asked for, by the risk's name. */
type Asked = ReadonlyMap<string, BoundAsker>;

function bothMethods({ fleet, evidence, tolerance, risks }: WhatIfQuestion): Asked {
  const grid = weighed(risks, fleet.acceptable, evidence.part);
  const upperAt: UpperAt = (name, confidence, intervalH, upTo) => {
    const { life, wear, unsafe } = evidence.roughLinesAt(confidence).risks.counted;
    const spacingH = intervalH * (1 + tolerance);
    return name === UNSAFE ? unsafe(spacingH, upTo) : worse(life(spacingH, upTo), wear(spacingH, upTo));
  };
  return askedOf(grid, fleet, upperAt, (name, k) => {
    const upper = grid[k]!.risks.find((risk) => risk.name === name)?.value?.upper ?? null;
    return { atLeast: upper, atMost: upper };
  });
}

function askedOf(
  grid: readonly IntervalRisks[],
  { acceptable: { confidence } }: Fleet,
  upperAt: UpperAt,
  knownAt: (name: string, k: number) => { readonly atLeast: number | null; readonly atMost: number | null },
): Asked {
  const ofName = (name: string): BoundAsker =>
    boundAsker({
      confidence,
      known: grid.map(({ intervalH, risks }, k) => {
        const value = risks.find((risk) => risk.name === name)?.value ?? null;
        return { intervalH, estimate: value?.estimate ?? null, ...knownAt(name, k) };
      }),
      upperAt: (at, intervalH, level) => upperAt(name, at, intervalH, justOver(level))?.upper ?? null,
    });
  return new Map(grid[0]!.risks.map(({ name }) => [name, ofName(name)]));
}

/** The grid's risks at a confidence: each upper bound, when it is looked at, on its side of what is acceptable. */
function gridAt(
  { fleet, evidence, risks }: WhatIfQuestion,
  asked: Asked,
  confidence: number,
  acceptable: Acceptable,
): IntervalRisks[] {
  const asPublished = confidence === fleet.acceptable.confidence;
  const at = (intervalH: number, risk: WeighedRisk): WeighedRisk => ({
    ...risk,
    value: risk.value && {
      estimate: risk.value.estimate,
      // Elsewhere a risk that is too high by its lower bound is so by its estimate too: shortened either way.
      lower: asPublished ? risk.value.lower : null,
      get upper() {
        return asked.get(risk.name)!(confidence, intervalH, risk.acceptable);
      },
    },
  });
  return weighed(risks, acceptable, evidence.part).map(({ intervalH, risks: named }) => ({
    intervalH,
    risks: named.map((risk) => at(intervalH, risk)),
  }));
}

function answerAt(
  question: WhatIfQuestion,
  asked: Asked,
  confidence: number,
  riskFactor: number,
): WhatIfAnswer {
  const { fleet, published, review, failuresAt, mayExtendTo } = question;
  const acceptable: Acceptable = {
    ...fleet.acceptable,
    overLimitPerInspection: Math.min(1, riskFactor * fleet.acceptable.overLimitPerInspection),
    unsafeBeforeSeen: Math.min(1, riskFactor * fleet.acceptable.unsafeBeforeSeen),
  };
  const stricter = gridAt(question, asked, extensionConfidence(confidence, review), acceptable);
  const decided = decide({
    ...published,
    grid: gridAt(question, asked, confidence, acceptable),
    beyondPresent: (intervalH) => stricter.find((at) => at.intervalH === intervalH)!,
    functionalFailures: { ...published.functionalFailures, value: failuresAt(confidence) },
    firstInspectionH: published.firstInspectionH === null ? null : Number.POSITIVE_INFINITY,
    mayExtendTo: (candidateH) => mayExtendTo(candidateH, acceptable),
  });
  return answerOf(decided);
}

function answerOf(decided: Decided): WhatIfAnswer {
  const { row, answer, recommendedH, candidateH, longestByBoundH } = decided;
  return { row, answer, recommendedH, candidateH, longestByBoundH };
}
