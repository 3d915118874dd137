/**
 * One invented month with every kind of answer, for page and chart tests: deterministic, no fit behind it.
 *
 * Groups: temperate shielded (extend), sandy shielded (keep), sandy plain (shorten, act now), coastal shielded
 * (too few: no fit, no bounds), and one of another part without an unsafe-at limit.
 */
import type { PartLifeComparison } from "../../src/interval/life-findings.ts";
import type {
  ActNowLine,
  GapQuarter,
  GroupResult,
  Month,
  Recommendation,
} from "../../src/interval/month-result.ts";
import type { RemovalTrend } from "../../src/interval/removal-findings.ts";
import type { PartWear } from "../../src/interval/wear-findings.ts";
import { type Random, seededRandom } from "../../src/math/random.ts";
import { dayFromIso } from "../../src/units.ts";
import { makeFleetSettings } from "./make-fleet-settings.ts";
import { type GroupRecipe, makeGroup } from "./make-group.ts";
import { makeRecommendation, type RecommendationRecipe } from "./make-recommendation.ts";

const grip = { part: "grip bearing", replaceAtMm: 0.5, unsafeAtMm: 0.8 };

type Recipe = Omit<GroupRecipe, "firstComponent"> & { readonly answer: RecommendationRecipe };

const recipe = (
  [part, environment, standard]: readonly [
    { part: string; replaceAtMm: number; unsafeAtMm: number | null },
    string,
    string,
  ],
  numbers: { components: number; medianRatePer1000H: number; maxLooks: number; fits: boolean },
  answer: RecommendationRecipe,
): Recipe => ({
  key: { part: part.part, environment, standard },
  slug: [part.part, environment, standard].join("-").replaceAll(" ", "-"),
  components: numbers.components,
  medianRatePer1000H: numbers.medianRatePer1000H,
  intervalH: answer.presentIntervalH,
  maxLooks: numbers.maxLooks,
  replaceAtMm: part.replaceAtMm,
  unsafeAtMm: part.unsafeAtMm,
  lifeFit: numbers.fits,
  wearFit: numbers.fits,
  answer,
});

const RECIPES: readonly Recipe[] = [
  recipe(
    [grip, "temperate", "shielded"],
    { components: 90, medianRatePer1000H: 0.2, maxLooks: 6, fits: true },
    {
      answer: "extend",
      row: 5,
      recommendedIntervalH: 750,
      presentIntervalH: 600,
      shareAtPresent: 0.012,
      sentence:
        "Extend the grip bearing wear check from 600 h to 750 h for temperate aircraft with shielded rings.",
      failedRule: false,
      observedToHours: 2940,
    },
  ),
  recipe(
    [grip, "sandy", "shielded"],
    { components: 60, medianRatePer1000H: 0.33, maxLooks: 7, fits: true },
    {
      answer: "keep",
      row: 6,
      recommendedIntervalH: 300,
      presentIntervalH: 300,
      shareAtPresent: 0.03,
      sentence: "Keep 300 h. The bounds hold to 350 h, but readings heap just below the replace-at limit.",
      failedRule: true,
      observedToHours: 1480,
    },
  ),
  recipe(
    [grip, "sandy", "plain"],
    { components: 45, medianRatePer1000H: 0.68, maxLooks: 4, fits: true },
    {
      answer: "shorten",
      row: 1,
      recommendedIntervalH: 150,
      presentIntervalH: 300,
      shareAtPresent: 0.19,
      sentence:
        "Shorten the grip bearing wear check from 300 h to 150 h for sandy aircraft with plain rings.",
      failedRule: false,
      observedToHours: 580,
    },
  ),
  recipe(
    [grip, "coastal", "shielded"],
    { components: 8, medianRatePer1000H: 0.28, maxLooks: 3, fits: false },
    {
      answer: "not enough evidence",
      row: 2,
      recommendedIntervalH: 600,
      presentIntervalH: 600,
      shareAtPresent: null,
      sentence:
        "Keep 600 h. 8 components are too few for any bound; 20 lives are needed, about 14 more months.",
      failedRule: false,
      observedToHours: null,
    },
  ),
  recipe(
    [{ part: "hinge bushing", replaceAtMm: 0.3, unsafeAtMm: null }, "temperate", "as fitted"],
    { components: 40, medianRatePer1000H: 0.1, maxLooks: 6, fits: true },
    {
      answer: "keep",
      row: 4,
      recommendedIntervalH: 400,
      presentIntervalH: 400,
      shareAtPresent: 0.07,
      sentence: "Keep 400 h. The best estimate holds, its bound does not: not demonstrated.",
      failedRule: false,
      observedToHours: 1900,
    },
  ),
];

function makeTrend(part: string, environment: string, perMonth: number, random: Random): RemovalTrend {
  const months = Array.from({ length: 24 }, (_, index) => {
    const year = 2024 + Math.floor((index + 3) / 12);
    const month = `${year}-${String(1 + ((index + 3) % 12)).padStart(2, "0")}`;
    const late = environment === "sandy" && index >= 22 ? 5 : 1;
    const unscheduled = Math.floor(perMonth * late * (0.4 + 1.2 * random.uniform()));
    const flightHours = Math.round(700 + 300 * random.uniform());
    const per1000H = { estimate: (unscheduled / flightHours) * 1000, lower: 0, upper: 0 };
    per1000H.lower = Math.max(0, per1000H.estimate - 1.7 * Math.sqrt(per1000H.estimate));
    per1000H.upper = per1000H.estimate + 2.1 * Math.sqrt(per1000H.estimate) + 3.7;
    return {
      month,
      flightHours: index === 5 ? 0 : flightHours,
      removals: unscheduled + 1,
      unscheduled,
      per1000H: index === 5 ? null : per1000H,
      alertCount: Math.ceil(perMonth * 2),
      over: unscheduled >= Math.ceil(perMonth * 2),
    };
  });
  const alert = months.slice(-3).filter((month) => month.over).length >= 2;
  return {
    part,
    environment,
    months,
    alert,
    alertWhy: alert ? "2 of the last 3 months are over the 99 % limit" : null,
    causes: [
      { mode: "wear", removals: 31, confirmed: 22, unconfirmed: 0, noFinding: 9 },
      { mode: "seal", removals: 12, confirmed: 6, unconfirmed: 5, noFinding: 1 },
    ],
    meanHoursBetween: {
      all: { removals: 52, estimate: 331, lower: 270, upper: 411 },
      unscheduled: { removals: 43, estimate: 440, lower: 345, upper: 571 },
      failures: { removals: 38, estimate: 498, lower: 362, upper: 703 },
    },
    overHours: {
      events: 43,
      hours: 18_920,
      leftOut: 1,
      laplace: { z: 2.31, pTwoSided: 0.021 },
      militaryHandbook: { chiSquared: 61.2, pTwoSided: 0.038 },
      powerLaw: {
        maximumLikelihood: 1.41,
        modified: 1.37,
        lower: 1.02,
        upper: 1.85,
        cramerVonMises: 0.11,
      },
    },
    perAircraft: {
      aircraft: 9,
      leftOut: 1,
      points: Array.from({ length: 12 }, (_, index) => {
        const mean = (index + 1) / 9 + 0.02 * index * index;
        return {
          hours: 150 * (index + 1),
          atRisk: 9 - Math.floor(index / 4),
          mean,
          lower: mean / 1.6,
          upper: mean * 1.6,
        };
      }),
    },
  };
}

function makeGapQuarters(): GapQuarter[] {
  const series = [
    ["shielded", "sandy", 0.35, 0.05],
    ["shielded", "temperate", 0.3, 0.01],
    ["plain", "sandy", 0.4, 0.06],
  ] as const;
  return series.flatMap(([standard, environment, start, drift]) =>
    Array.from({ length: 8 }, (_, index) => index).flatMap((index): GapQuarter[] => {
      const quarter = `${2024 + Math.floor((index + 1) / 4)}-Q${1 + ((index + 1) % 4)}`;
      const found = start + drift * index;
      const spread = { standard, environment, quarter, readings: 14 + index };
      return [
        {
          ...spread,
          state: "found",
          medianMm: found,
          lowMm: found - 0.15,
          highMm: found + 0.3,
          outOfTolerance: Math.min(0.9, 0.02 + drift * index),
        },
        { ...spread, state: "left", medianMm: 0.25, lowMm: 0.15, highMm: 0.4, outOfTolerance: 0 },
      ];
    }),
  );
}

const makeLifeComparison = (): PartLifeComparison => {
  const window = { fromDay: dayFromIso("2024-05-01")!, toDay: dayFromIso("2026-03-30")! };
  return {
    part: "grip bearing",
    ...window,
    standards: [
      {
        environment: "sandy",
        of: "shielded",
        against: "plain",
        ...window,
        lives: { of: 60, against: 45 },
        events: { of: 9, against: 21 },
        compared: {
          ratio: { estimate: 2.1, lower: 1.7, upper: 2.6 },
          p: 0.00012,
          shapeP: 0.43,
          removalsP: 0.0021,
          sentence: "shielded lasts longer than plain: 2.1 times as long (95 %: 1.7 to 2.6 times).",
        },
        why: null,
      },
      {
        environment: "coastal",
        of: "shielded",
        against: "plain",
        ...window,
        lives: { of: 8, against: 3 },
        events: { of: 1, against: 1 },
        compared: null,
        why: "2 over-limit events at that time, too few to compare",
      },
    ],
    shape: { groups: 3, shape: 3.4, chiSquared: 2.2, degreesOfFreedom: 2, p: 0.33 },
    effects: [
      {
        factor: "environment",
        level: "sandy",
        against: "temperate",
        ratio: { estimate: 0.41, lower: 0.33, upper: 0.52 },
      },
      {
        factor: "standard",
        level: "plain",
        against: "shielded",
        ratio: { estimate: 0.48, lower: 0.4, upper: 0.57 },
      },
    ],
    interactionP: 0.6,
    whyNoEffects: null,
  };
};

const makeActNow = (groups: readonly GroupResult[]): ActNowLine[] => [
  {
    kind: "fitted at or over replace-at limit",
    group: groups[2]!.key,
    serial: "0153",
    where: "RW-03, arm 2",
    found: "0.56 mm",
    limit: "0.50 mm",
    day: dayFromIso("2026-03-18")!,
    source: "exports/wear-2026-03.csv:412",
  },
  {
    kind: "look overdue",
    group: groups[1]!.key,
    serial: "0099",
    where: "RW-07, arm 4",
    found: "352 h since the last look",
    limit: "330 h",
    day: dayFromIso("2026-03-31")!,
    source: "exports/installed-2026-03.csv:88",
  },
];

function makeRecommendations(
  groups: readonly GroupResult[],
  actNow: readonly ActNowLine[],
): Recommendation[] {
  const fleet = makeFleetSettings();
  return groups.map((group, index) => ({
    ...makeRecommendation(group, fleet.tasks[index < 4 ? 0 : 1]!, RECIPES[index]!.answer),
    lastDecision: index === 0 ? fleet.decisions[1]! : index < 3 ? fleet.decisions[0]! : null,
    actNow: actNow.filter((line) => line.group === group.key),
  }));
}

/** Of the first part; the second has one group, so nothing to compare. */
function makePartWear(groups: readonly GroupResult[]): PartWear[] {
  const compared = groups
    .filter(({ key, wear }) => key.part === "grip bearing" && wear.fit !== null)
    .sort((a, b) => b.wear.fit!.ratePer1000H.estimate - a.wear.fit!.ratePer1000H.estimate);
  const slowest = compared.at(-1)!.wear.fit!.ratePer1000H.estimate;
  const rates = compared.map((group, index) => {
    const { environment, standard } = group.key;
    const ratePer1000H = group.wear.fit!.ratePer1000H;
    const ratio = ratePer1000H.estimate / slowest;
    const timesSlowest =
      index === compared.length - 1 ? null : { estimate: ratio, lower: 0.86 * ratio, upper: 1.17 * ratio };
    return { environment, standard, hours: group.flightHours, ratePer1000H, timesSlowest };
  });
  const change = { kind: "fitted", components: 9, aircraft: 6, changeMmPer1000Hours: -0.2 } as const;
  const way = (crossing: "straight" | "at once" | "at the end", hoursOut: number) => ({
    crossing,
    hoursIn: 9000 - hoursOut,
    hoursOut,
    ratio: hoursOut === 0 ? null : { estimate: 2.1, lower: 1.3, upper: 3.2 },
  });
  return [
    {
      part: "grip bearing",
      comparison: {
        kind: "fitted",
        components: 195,
        aircraft: 9,
        readings: 700,
        moved: 4,
        aircraftSdPer1000H: 0.03,
        rates,
        leftOut: ["coastal, shielded"],
      },
      standardChanges: [{ from: "plain", to: "shielded", change: { ...change, lower: -0.33, upper: -0.07 } }],
      seal: {
        kind: "fitted",
        joined: 300,
        notJoined: 4,
        components: 50,
        groups: [
          {
            environment: "sandy",
            standard: "shielded",
            ways: [way("straight", 1200), way("at once", 2600), way("at the end", 0)],
            pessimistic: way("at once", 2600),
            rateAllIn: { estimate: 0.76, lower: 0.61, upper: 0.92 },
            driftMmPer1000H: { estimate: 0.7, lower: 0.5, upper: 0.9 },
          },
        ],
        together: way("at once", 2600),
      },
    },
    {
      part: "hinge bushing",
      comparison: { kind: "none", why: "only one environment and standard has enough components" },
      standardChanges: [],
      seal: { kind: "none", why: "no gap reading joins a component of this part" },
    },
  ];
}

/** The month; `overrides` replace whole members. */
export function makeMonth(overrides: Partial<Month> = {}): Month {
  const random = seededRandom(7);
  let firstComponent = 0;
  const groups = RECIPES.map((one) => {
    const group = makeGroup({ ...one, firstComponent }, random);
    firstComponent += one.components;
    return group;
  });
  const actNow = makeActNow(groups);
  return {
    fleet: makeFleetSettings(),
    month: "2026-03",
    asOf: dayFromIso("2026-03-31")!,
    latestDay: dayFromIso("2026-03-30")!,
    isReview: true,
    program: "rotorwear 0.1.0",
    settingsSha256: "5f1d0c6b".repeat(8),
    inputs: [makeLedger()],
    unknownWords: [
      {
        kind: "wear",
        column: "Base",
        word: "Saltpann",
        count: 3,
        near: "Saltpan",
        firstFile: "exports/wear-2026-03.csv",
        firstLine: 77,
        section: "environments",
      },
    ],
    problems: [
      {
        code: "E-NUMBER",
        file: "exports/wear-2026-03.csv",
        count: 2,
        examples: ['exports/wear-2026-03.csv:91 Wear: expected mm, got "0.3.1" [E-NUMBER]'],
      },
    ],
    exclusions: [
      {
        component: 4,
        reason: "hours fall and nothing says why",
        rows: [{ kind: "wear", file: 0, line: 230 }],
      },
    ],
    serials: Array.from({ length: firstComponent }, (_, index) => String(index + 1).padStart(4, "0")),
    actNow,
    groups,
    recommendations: makeRecommendations(groups, actNow),
    watchList: groups.slice(0, 3).map((group, index) => ({
      group: group.key,
      serial: `00${31 + index}`,
      where: `RW-0${1 + index}, arm ${1 + index}`,
      lastReadingMm: 0.47 - 0.03 * index,
      lastReadingDay: dayFromIso("2026-03-10")!,
      hoursAtLastReading: 820 + 100 * index,
      hoursAtLastLook: 820 + 100 * index,
      lastLookDay: dayFromIso("2026-03-10")!,
      // Past the median, past the 95 % point, not known.
      hoursFlownSince: [120, 265, null][index]!,
      chanceByNextLook: 0.82 - 0.2 * index,
      hoursLeft: index === 2 ? null : { estimate: 110 + 60 * index, lower: 40, upper: 260 },
    })),
    watchRecord: [
      {
        from: 0.1,
        to: 0.3,
        looks: 80,
        predicted: 0.19,
        over: 14,
        share: { estimate: 0.175, lower: 0.1, upper: 0.276 },
      },
    ],
    partWear: makePartWear(groups),
    trends: [
      makeTrend("grip bearing", "temperate", 2, random),
      makeTrend("grip bearing", "sandy", 4, random),
      makeTrend("hinge bushing", "temperate", 1, random),
    ],
    lifeComparisons: [makeLifeComparison()],
    gapQuarters: makeGapQuarters(),
    changes: [
      {
        what: "grip bearing, sandy, plain: keep 300 h became shorten to 150 h",
        why: "6 over-limit finds among 21 new looks (wear-2026-03.csv)",
      },
    ],
    ...overrides,
  };
}

const makeLedger = (): Month["inputs"][number] => ({
  file: "exports/wear-2026-03.csv",
  kind: "wear",
  sha256: "ab12cd34".repeat(8),
  bytes: 88_123,
  exported: dayFromIso("2026-04-01")!,
  lines: 1010,
  headingLines: 1,
  blankLines: 4,
  totalsLines: 1,
  rowLines: 1004,
  read: 1004,
  accepted: 990,
  rejected: 2,
  identical: 9,
  superseded: 3,
  unassigned: 3,
  format: ['delimiter ";" as set in the fleet file', "encoding windows-1252 as set in the fleet file"],
  used: 980,
  afterAsOf: 7,
  latestUpToAsOf: dayFromIso("2026-03-30")!,
});
