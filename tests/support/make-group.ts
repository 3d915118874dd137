/** One invented group for page and chart tests: lives drawn with a seed, and results of a plausible size. Not a fit. */
import type { GroupLife, GroupModes, LifeChecks } from "../../src/interval/life-findings.ts";
import type { GroupResult, GroupWear } from "../../src/interval/month-result.ts";
import type { WearChecks } from "../../src/interval/wear-checks.ts";
import type { Random } from "../../src/math/random.ts";
import type { GroupKey, Life } from "../../src/records/life.ts";

export interface GroupRecipe {
  readonly key: GroupKey;
  readonly slug: string;
  readonly firstComponent: number;
  readonly components: number;
  readonly medianRatePer1000H: number;
  readonly intervalH: number;
  readonly maxLooks: number;
  readonly replaceAtMm: number;
  readonly unsafeAtMm: number | null;
  /** False: the life model has no fit. */
  readonly lifeFit: boolean;
  readonly wearFit: boolean;
}

const LAST_DAY = 20_542; // 2026-03-30
const SPREAD = 0.3;
const INTERCEPT_MM = 0.02;

/** About 40 flight hours a month. */
const dayAt = (hours: number, lastHours: number): number => LAST_DAY - Math.round((lastHours - hours) * 0.75);

function makeLife(recipe: GroupRecipe, index: number, random: Random): Life {
  const rate = (recipe.medianRatePer1000H / 1000) * Math.exp(SPREAD * random.normal());
  const lateEntry = index % 5 === 4;
  const start = lateEntry ? recipe.intervalH : 0;
  const looks = 2 + random.below(recipe.maxLooks - 1);
  const hours: number[] = [];
  const wearMm: number[] = [];
  let found: number | null = null;
  for (let look = 1; look <= looks && found === null; look += 1) {
    const at = Math.round(start + look * recipe.intervalH * (0.92 + 0.1 * random.uniform()));
    const wear = Math.max(0, INTERCEPT_MM + rate * at + 0.012 * random.normal());
    hours.push(at);
    wearMm.push(Math.round(wear * 100) / 100);
    if (wear >= recipe.replaceAtMm) found = at;
  }
  const last = hours[hours.length - 1]!;
  const days = hours.map((at) => dayAt(at, last));
  const lastGood = found === null ? last : (hours[hours.length - 2] ?? start);
  return {
    component: recipe.firstComponent + index,
    group: recipe.key,
    life: 1,
    piece: 1,
    entryHours: start,
    lowerHours: lastGood,
    upperHours: found ?? Number.POSITIVE_INFINITY,
    end: found === null ? "still fitted" : "over limit found",
    lateEntry,
    observedFromHours: start,
    lastHours: last,
    environmentFrom: "flying",
    aircraft: `RW-${String(1 + (index % 9)).padStart(2, "0")}`,
    position: String(1 + (index % 4)),
    firstDay: days[0]!,
    lastDay: days[days.length - 1]!,
    eventDay: found === null ? null : days[days.length - 1]!,
    removedDay: found === null ? null : days[days.length - 1]!,
    removal: found === null ? null : { mode: "wear", inService: false, noFaultFound: false },
    functionalFailureHours: null,
    readingHours: hours,
    readingWearMm: wearMm,
    readingDays: days,
    lookHours: hours,
    lookDays: days,
    rows: hours.map((_, row) => ({ kind: "wear", file: 0, line: 2 + index * 10 + row })),
  };
}

/** Product-limit curve at the hours found, with log-log bounds; rough on purpose, it only has to look like one. */
function survivalSteps(lives: readonly Life[]): GroupLife["survival"] {
  const steps: { hours: number; survival: number; lower: number | null; upper: number | null }[] = [];
  const found = lives.filter((life) => life.upperHours !== Number.POSITIVE_INFINITY);
  let survival = 1;
  let greenwood = 0;
  for (const hours of [...new Set(found.map((life) => life.upperHours))].sort((a, b) => a - b)) {
    const events = found.filter((life) => life.upperHours === hours).length;
    const last = (life: Life) =>
      life.upperHours === Number.POSITIVE_INFINITY ? life.lowerHours : life.upperHours;
    const atRisk = lives.filter((life) => life.entryHours < hours && last(life) >= hours).length;
    if (atRisk === events) {
      steps.push({ hours, survival: 0, lower: null, upper: null });
      break;
    }
    survival *= 1 - events / atRisk;
    greenwood += events / (atRisk * (atRisk - events));
    const reach = (1.96 * Math.sqrt(greenwood)) / Math.abs(Math.log(survival));
    steps.push({
      hours,
      survival,
      lower: survival ** Math.exp(reach),
      upper: survival ** Math.exp(-reach),
    });
  }
  return steps;
}

function makeGroupLife(recipe: GroupRecipe, lives: readonly Life[]): GroupLife {
  const events = lives.filter((life) => life.upperHours !== Number.POSITIVE_INFINITY);
  const medianLifeH = ((recipe.replaceAtMm - INTERCEPT_MM) / recipe.medianRatePer1000H) * 1000;
  const shape = 3.6;
  const scale = medianLifeH * 1.12;
  const top = Math.max(...lives.map((life) => Math.max(...life.lookHours)));
  const at = (hours: number, s: number) => Math.exp(-((hours / s) ** shape));
  const tenPercent = scale * (-Math.log(0.9)) ** (1 / shape);
  return {
    lives: lives.length,
    events: events.length,
    running: lives.length - events.length,
    lateEntries: lives.filter((life) => life.lateEntry).length,
    weibull: recipe.lifeFit
      ? {
          shape: { estimate: shape, lower: 2.7, upper: 4.7 },
          scaleHours: { estimate: scale, lower: scale * 0.92, upper: scale * 1.1 },
          tenPercentHours: { estimate: tenPercent, lower: tenPercent * 0.86, upper: tenPercent * 1.12 },
          logLikelihood: -1.9 * events.length - 11.25,
        }
      : null,
    why: recipe.lifeFit ? null : `${events.length} over-limit events; a Weibull of two parameters needs 3`,
    zeroEvents: recipe.lifeFit
      ? null
      : "6 lives to 600 h without an event show at 95 % confidence that at least 60.7 % get there without one.",
    survival: survivalSteps(lives),
    curve: recipe.lifeFit
      ? Array.from({ length: 40 }, (_, step) => {
          const hours = (top * (step + 1)) / 40;
          return {
            hours,
            survival: at(hours, scale),
            lower: at(hours, scale * 0.9),
            upper: at(hours, scale * 1.1),
          };
        })
      : [],
    marks: lives.map((life) =>
      life.upperHours === Number.POSITIVE_INFINITY
        ? { kind: "running", lower: life.lowerHours, upper: null }
        : {
            kind: life.lowerHours === 0 ? "left" : "interval",
            lower: life.lowerHours,
            upper: life.upperHours,
          },
    ),
  };
}

function makeGroupWear(recipe: GroupRecipe, lives: readonly Life[]): GroupWear {
  const rate = recipe.medianRatePer1000H;
  const top = Math.max(...lives.map((life) => Math.max(...life.lookHours)));
  const bounded = (value: number, reach: number) => ({
    estimate: value,
    lower: value * (1 - reach),
    upper: value * (1 + reach),
  });
  const at = (hours: number, z: number) =>
    INTERCEPT_MM + (rate / 1000) * hours * Math.exp(SPREAD * z) + 0.02 * z;
  return {
    components: lives.length,
    readings: lives.reduce((sum, life) => sum + life.readingHours.length, 0),
    fit: recipe.wearFit
      ? {
          interceptMm: bounded(INTERCEPT_MM, 0.3),
          ratePer1000H: bounded(rate, 0.45 / Math.sqrt(lives.length)),
          componentSdRate: rate * 0.28,
          componentSdInterceptMm: 0.006,
          measurementSdMm: 0.012,
          cautions: [],
        }
      : null,
    why: recipe.wearFit ? null : "no component has two readings at different hours",
    band: recipe.wearFit
      ? Array.from({ length: 25 }, (_, step) => {
          const hours = (top * step) / 24;
          return {
            hours,
            meanMm: at(hours, 0),
            lowMm: Math.max(0, at(hours, -1.64)),
            highMm: at(hours, 1.64),
          };
        })
      : [],
    decision:
      recipe.wearFit && recipe.components >= 10
        ? {
            family: "lognormal",
            medianRatePer1000H: bounded(rate * 0.98, 0.5 / Math.sqrt(lives.length)),
            p99RatePer1000H: { estimate: rate * 2, lower: rate * 1.7, upper: rate * 2.6 },
            p99Check: null,
          }
        : null,
    whyNoDecisionFit: recipe.components >= 10 ? null : "8 components; no wear bound below 10",
  };
}

const makeLifeChecks = (recipe: GroupRecipe): LifeChecks => ({
  alternative: {
    family: "lognormal",
    aicDifference: 3.1,
    spacingH: 1.1 * recipe.intervalH,
    weibullShare: 0.012,
    share: 0.0131,
  },
  curve: { points: 14, outside: 0, greatestDistance: 0.06, atHours: 4 * recipe.intervalH, agrees: true },
  influence: [
    { kind: "aircraft", name: "RW-03", lives: 5, lifeRatio: 1.08 },
    { kind: "life", name: "0007", lives: 1, lifeRatio: 1.05 },
    { kind: "life", name: "0011", lives: 1, lifeRatio: null },
  ],
  shortcuts: [
    {
      sentence:
        "Taking each event as at the middle of its interval makes the 10 % life 14 % too short (1438 h instead of 1663 h).",
      lifeRatio: 0.86,
    },
  ],
});

function makeWearChecks(recipe: GroupRecipe, lives: readonly Life[]): WearChecks {
  const rate = recipe.medianRatePer1000H;
  const looks = lives.reduce((sum, life) => sum + life.lookHours.length, 0);
  const components = lives.length;
  const change = { kind: "fitted", components, aircraft: 9 } as const;
  const tooFew = { kind: "too-few", components, aircraft: 9 } as const;
  return {
    robustRatePer1000H: recipe.wearFit
      ? { estimate: rate * 0.97, lower: rate * 0.9, upper: rate * 1.06 }
      : null,
    shape: {
      curvature: recipe.wearFit
        ? {
            kind: "fitted",
            components,
            readings: looks,
            exponent: 1.02,
            lower: 0.9,
            upper: 1.14,
            verdict: "straight",
          }
        : { kind: "too-few", components, readings: looks, why: "too few readings a component" },
      runningInHours: 2 * recipe.intervalH,
      runningIn: recipe.wearFit
        ? { ...change, changeMmPer1000Hours: -0.01, lower: -0.05, upper: 0.03 }
        : tooFew,
      atDate: recipe.wearFit
        ? {
            day: "2024-08-15",
            tried: 12,
            change: { ...change, changeMmPer1000Hours: 0.12, lower: 0.03, upper: 0.21 },
          }
        : null,
    },
    measurement: {
      repeatSdMm: 0.011,
      repeats: 7,
      gaugeStepMm: 0.01,
      heaping: { windowMm: 0.02, before: 6, justBelow: 5, from: 4, p: 0.6 },
      looks,
      looksWithNumber: looks,
      oddCount: recipe.wearFit ? 1 : 0,
      odd: recipe.wearFit
        ? [
            {
              serial: "0017",
              hours: 900,
              wearMm: 0.31,
              standardised: 5.2,
              influenceMmPer1000H: -0.08,
              source: "exports/wear-2026-03.csv:91",
            },
          ]
        : [],
    },
  };
}

/** A chance that grows to `chance` in six equal steps, with bounds a third off. */
const makeIncidence = (intervalH: number, chance: number): GroupModes["modes"][number]["curve"] =>
  [1, 2, 3, 4, 5, 6].map((looks) => {
    const reached = (chance * looks) / 6;
    return { hours: looks * intervalH, chance: reached, lower: 0.67 * reached, upper: 1.33 * reached };
  });

/** The group of a recipe. */
export function makeGroup(recipe: GroupRecipe, random: Random): GroupResult {
  const lives = Array.from({ length: recipe.components }, (_, index) => makeLife(recipe, index, random));
  const looks = lives.reduce((sum, life) => sum + life.lookHours.length, 0);
  return {
    key: recipe.key,
    slug: recipe.slug,
    components: lives.length,
    modelledComponents: lives.length,
    aircraft: [...new Set(lives.map((life) => life.aircraft))].sort(),
    looks,
    flightHours: looks * recipe.intervalH,
    overLimitEvents: lives.filter((life) => life.end === "over limit found").length,
    earlyRemovals: 0,
    replaceAtMm: recipe.replaceAtMm,
    unsafeAtMm: recipe.unsafeAtMm,
    presentIntervalsH: [recipe.intervalH],
    life: makeGroupLife(recipe, lives),
    wear: makeGroupWear(recipe, lives),
    wearChecks: makeWearChecks(recipe, lives),
    lifeChecks: recipe.lifeFit ? makeLifeChecks(recipe) : null,
    modes: {
      atHours: 6 * recipe.intervalH,
      givenHours: 0,
      modes: [
        {
          mode: "over the limit",
          events: 21,
          chance: { estimate: 0.31, lower: 0.22, upper: 0.4 },
          curve: makeIncidence(recipe.intervalH, 0.31),
          chanceAlone: 0.34,
          shape: recipe.lifeFit ? { estimate: 3.6, lower: 2.7, upper: 4.7 } : null,
          tenPercentHours: recipe.lifeFit ? { estimate: 1310, lower: 1120, upper: 1490 } : null,
          why: recipe.lifeFit ? null : "2 events",
        },
        {
          mode: "seal",
          events: 4,
          chance: { estimate: 0.05, lower: 0.02, upper: 0.11 },
          curve: makeIncidence(recipe.intervalH, 0.05),
          chanceAlone: 0.07,
          shape: { estimate: 1.3, lower: 0.5, upper: null },
          tenPercentHours: { estimate: 2900, lower: 1400, upper: null },
          why: null,
        },
      ],
    },
    lives,
  };
}
