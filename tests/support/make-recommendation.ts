/** One invented recommendation for a group of the fixture: risks that rise with the interval as they do in life. */

import type { Task } from "../../src/fleet/fleet.ts";
import type {
  Answer,
  Bounded,
  GroupResult,
  Recommendation,
  RiskAtInterval,
} from "../../src/interval/month-result.ts";
import type { WhatIf } from "../../src/interval/what-if-result.ts";

export interface RecommendationRecipe {
  readonly answer: Answer;
  readonly row: number;
  readonly recommendedIntervalH: number | null;
  readonly presentIntervalH: number;
  /** Over-limit share at the present interval; null: no risk could be computed. */
  readonly shareAtPresent: number | null;
  readonly sentence: string;
  readonly failedRule: boolean;
  readonly observedToHours: number | null;
}

const STEP_H = 50;
const ACCEPTABLE_SHARE = 0.1;
const ACCEPTABLE_UNSAFE = 0.001;

const bounded = (estimate: number, factor: number): Bounded => ({
  estimate,
  lower: estimate / factor,
  upper: Math.min(1, estimate * factor),
});

function makeRisks(recipe: RecommendationRecipe, unsafe: boolean): RiskAtInterval[] {
  const { presentIntervalH: present, shareAtPresent } = recipe;
  const first = Math.max(STEP_H, present - 5 * STEP_H);
  return Array.from({ length: (present - first) / STEP_H + 8 }, (_, step) => {
    const intervalH = first + step * STEP_H;
    const share =
      shareAtPresent === null ? null : Math.min(0.99, shareAtPresent * (intervalH / present) ** 2.4);
    return {
      intervalH,
      overLimitPerInspection: {
        life: share === null ? null : bounded(share, 1.7),
        wear: share === null ? null : bounded(Math.min(0.99, share * 1.15), 1.45),
      },
      unsafeBeforeSeen:
        share === null || !unsafe ? null : bounded(0.00005 * (intervalH / 450) ** 5 * (share / 0.05), 3),
    };
  });
}

/** Longest interval up to which every grid step holds. */
function longest(risks: readonly RiskAtInterval[], pick: (risk: Bounded) => number | null): number | null {
  let found: number | null = null;
  for (const risk of risks) {
    const { life, wear } = risk.overLimitPerInspection;
    if (life === null || wear === null) return null;
    const share = Math.max(pick(life) ?? 1, pick(wear) ?? 1);
    const unsafe = risk.unsafeBeforeSeen === null ? 0 : (pick(risk.unsafeBeforeSeen) ?? 1);
    if (share > ACCEPTABLE_SHARE || unsafe > ACCEPTABLE_UNSAFE) return found;
    found = risk.intervalH;
  }
  return found;
}

/** Answers that any change of a setting can be told by. */
function makeWhatIf(recipe: RecommendationRecipe, byBound: number | null): WhatIf {
  const published = {
    row: recipe.row,
    answer: recipe.answer,
    recommendedH: recipe.recommendedIntervalH,
    candidateH: byBound,
    longestByBoundH: byBound,
  };
  const shorter = { ...published, row: 3, answer: "shorten" as const, recommendedH: 150, candidateH: null };
  const riskFactors = [0.5, 0.75, 1, 1.5, 2];
  const confidences = [0.8, 0.9, 0.95, 0.99];
  return {
    confidences,
    riskFactors,
    answers: confidences.map((confidence) =>
      riskFactors.map((factor) =>
        factor < 0.75
          ? shorter
          : factor > 1.5 && confidence < 0.9
            ? {
                ...published,
                row: 6,
                answer: "keep" as const,
                recommendedH: recipe.presentIntervalH,
                candidateH: recipe.presentIntervalH + 50,
              }
            : published,
      ),
    ),
    limits: [0.4, 0.45, 0.5, 0.55, 0.6].map((limitMm) => ({
      limitMm,
      answer: limitMm < 0.45 ? shorter : published,
    })),
    upToH: recipe.presentIntervalH * 1.5,
  };
}

export function makeRecommendation(
  group: GroupResult,
  task: Task,
  recipe: RecommendationRecipe,
): Recommendation {
  const risks = makeRisks(recipe, group.unsafeAtMm !== null);
  const byBound = longest(risks, (risk) => risk.upper);
  const looks = Math.round(group.looks * 0.6);
  return {
    slug: group.slug,
    task: task.task,
    taskReference: task.reference,
    group: group.key,
    basis: task.basis,
    presentIntervalH: recipe.presentIntervalH,
    presentFrom: "the task's interval",
    calendarMonths: task.calendarMonths,
    recommendation: recipe.answer,
    row: recipe.row,
    recommendedIntervalH: recipe.recommendedIntervalH,
    candidateH: byBound === null ? null : Math.min(byBound, recipe.presentIntervalH * 1.5),
    longestByEstimateH: longest(risks, (risk) => risk.estimate),
    longestByBoundH: byBound,
    governing: recipe.shareAtPresent === null ? null : "over limit per inspection, from the wear readings",
    risks,
    counted: {
      overLimit: group.overLimitEvents,
      looks,
      share: looks === 0 ? null : { estimate: group.overLimitEvents / looks, lower: 0.01, upper: 0.25 },
      since: 19_478,
      ages: {
        smallest: recipe.presentIntervalH,
        median: recipe.presentIntervalH * 2,
        largest: recipe.presentIntervalH * 5,
      },
    },
    functionalFailures: {
      failures: 0,
      hours: group.flightHours,
      per1000H: { estimate: 0, lower: 0, upper: 2996 / group.flightHours },
      inLast24Months: 0,
      open: 0,
      firstOpen: null,
      lacks: null,
    },
    firstInspectionHours: group.life.weibull === null ? null : group.life.weibull.tenPercentHours,
    oldest: {
      serial: "0012",
      hours: recipe.presentIntervalH * 5,
      chanceNextLook: { estimate: 0.08, lower: 0.04, upper: 0.15 },
    },
    evidence: [
      {
        rule: "lives",
        asks: "at least 20 lives",
        found: `${group.life.lives} lives`,
        needed: "20 lives",
        outcome: group.life.lives >= 20 ? "passed" : "failed",
        settle: group.life.lives >= 20 ? null : `${20 - group.life.lives} more lives, about 9 months`,
      },
      {
        rule: "heaping",
        asks: "no heaping of readings just below the replace-at limit",
        found: recipe.failedRule ? "14 readings in 0.48–0.50 mm, 5 expected" : "none",
        needed: "no heaping at 5 %",
        outcome: recipe.failedRule ? "failed" : "passed",
        settle: recipe.failedRule
          ? "a check of the gauge and of how readings near the limit are taken"
          : null,
      },
      {
        rule: "seal gaps",
        asks: "gap readings for the seals fitted",
        found: "no gap export",
        needed: "gap readings",
        outcome: "not applicable",
        settle: null,
      },
    ],
    sentence: recipe.sentence,
    notKnown: ["Whether the wear goes on faster past the replace-at limit: nobody has measured it here."],
    borrowed: [],
    lastDecision: null,
    actNow: [],
    sinceChange: null,
    wouldChange: {
      detection: [
        { value: 0.95, longestH: byBound },
        { value: 0.8, longestH: null },
      ],
      unsafeAt: [],
      yearMore: { looks, more: 40, longestH: byBound },
      tighter: null,
      sealsIn: null,
    },
    costs: {
      manHoursPerLook: task.manHours,
      componentHoursPerYear: 12_000,
      rows: risks.map(({ intervalH }) => ({
        intervalH,
        looksPer1000H: 1000 / intervalH,
        manHoursPer1000H: task.manHours === null ? null : (1000 * task.manHours) / intervalH,
        replacementsPer1000H: 0.4,
        unsafe: null,
      })),
    },
    goBackProposed:
      recipe.answer === "extend"
        ? { promisedShare: 0.04, stage: { looks: 60, finds: 7, falseAlarm: 0.025 } }
        : null,
    whatIf: recipe.shareAtPresent === null ? null : makeWhatIf(recipe, byBound),
    observedToHours: recipe.observedToHours,
    withEarlyRemovalsCensored: {
      recommendation: recipe.answer,
      recommendedIntervalH: recipe.recommendedIntervalH,
    },
  };
}
