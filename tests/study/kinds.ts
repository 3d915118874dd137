/**
 * The simulation study's fleets: what kinds of trouble there are, and what each fleet is drawn from.
 *
 * Fixed in advance: 4 components an aircraft, 50 flight hours a month, a present interval of 600 h, longer ones in steps of 50 h,
 * replace-at 0.50 mm, unsafe-at 0.80 mm in half of the fleets, a look's chance of seeing it 0.9, looks up to 10 % late or
 * early and wear past the limit 1.5 times as fast (all that the fleet file allows for). Every number of a fleet comes from its kind and seed.
 */
import { DEFAULT_BEYOND_LIMIT_FACTOR } from "../../src/fleet/defaults.ts";
import { power } from "../../src/math/power.ts";
import { type Random, seededRandom } from "../../src/math/random.ts";
import { streamSeed } from "../../src/simulate/maintenance.ts";
import {
  DEFAULT_FLYING,
  DEFAULT_GAUGE,
  DEFAULT_LOOKS,
  DEFAULT_PART,
  DEFAULT_REMOVALS,
  type MaintenanceSettings,
  type PartSettings,
} from "../../src/simulate/settings.ts";
import { dayOf } from "../../src/units.ts";

export const KINDS = [
  "gentle",
  "aircraft alike 0.3",
  "aircraft alike 0.5",
  "accelerating wear",
  "normal rates",
  "two kinds of rates",
  "gauge drift",
  "wrong environment",
  "records begin mid-life",
  "cautious mechanics",
  "looks without numbers",
  "heaping",
  "bad batch",
  "batch after the decision",
] as const;
export type Kind = (typeof KINDS)[number];

/** What is true of the wear itself, whatever is written down: kinds that differ in the record alone share it. */
export type Truth = "plain" | "accelerating" | "normal" | "two kinds" | "drift up" | "drift down" | "batch";

export const PRESENT_H = 600;
/** Intervals that are weighed: longer ones in steps of 50 h up to the largest change, shorter ones coarser. */
export const GRID_H = [300, 450, 600, 650, 700, 750, 800, 850, 900] as const;
export const TOLERANCE = 0.1;
export const REPLACE_AT_MM = 0.5;
export const UNSAFE_AT_MM = 0.8;
export const DETECTION = 0.9;
export const ACCEPTABLE = { unsafeBeforeSeen: 0.001, overLimitPerInspection: 0.1 };
/** A true risk over so many times the acceptable one must be seen. */
export const ACCEPTABLE_TWICE = 2;
/** From this size on an extension that could be given should be. */
export const FEWEST_FOR_POWER = { components: 60, months: 48 };
const HOURS_PER_MONTH = 50;
const DRIFT_MM_PER_YEAR = 0.01;
export const BATCH = { share: 0.05, factor: 3 };

/** Steps of the true longest interval over the present one, log-uniform from 0.5 to 3. */
export const RATIO_STEPS = 24;
export const ratioOf = (step: number): number => 0.5 * power(6, (step + 0.5) / RATIO_STEPS);
export const LOG_SDS = [0.3, 0.45] as const;

/** Whether a gentle fleet as drawn may count for power: by its size and truth, before anything is seen of it. */
export const mayShowPower = ({ unsafeAt, months, aircraft, ratioStep }: StudyFleet): boolean =>
  unsafeAt &&
  months >= FEWEST_FOR_POWER.months &&
  4 * aircraft >= FEWEST_FOR_POWER.components &&
  ratioOf(ratioStep) >= 1.9;

/** One fleet of the study. */
export interface StudyFleet {
  readonly kind: Kind;
  readonly seed: number;
  readonly truth: Truth;
  readonly aircraft: number;
  /** Months of record at its first report. */
  readonly months: number;
  /** Months before the records begin. */
  readonly before: number;
  readonly unsafeAt: boolean;
  readonly logSd: number;
  readonly ratioStep: number;
  /** Share of looks in words, where the kind has any. */
  readonly wordsShare: number;
}

export function drawFleet(kind: Kind, seed: number): StudyFleet {
  const random = seededRandom(streamSeed(seed, 7000 + KINDS.indexOf(kind)));
  const between = (low: number, high: number) => low + (high - low) * random.uniform();
  return {
    kind,
    seed,
    truth: truthOf(kind, random),
    aircraft: Math.round(Math.exp(between(Math.log(8), Math.log(250)))),
    months: Math.round(between(12, 96)),
    before: kind === "records begin mid-life" ? Math.round(between(36, 120)) : 0,
    unsafeAt: random.uniform() < 0.5,
    logSd: LOG_SDS[random.below(LOG_SDS.length)]!,
    ratioStep: random.below(RATIO_STEPS),
    wordsShare: Math.exp(between(Math.log(0.03), Math.log(0.3))),
  };
}

function truthOf(kind: Kind, random: Random): Truth {
  const up = random.uniform() < 0.5;
  if (kind === "accelerating wear") return "accelerating";
  if (kind === "normal rates") return "normal";
  if (kind === "two kinds of rates") return "two kinds";
  if (kind === "gauge drift") return up ? "drift up" : "drift down";
  return kind === "bad batch" || kind === "batch after the decision" ? "batch" : "plain";
}

/** How wear goes and is looked at: what the truth is simulated from, and the record too. */
export function partOf(
  truth: Truth,
  logSd: number,
  medianMmPer1000h: number,
  unsafeAt: boolean,
): PartSettings {
  const drift = truth === "drift up" ? DRIFT_MM_PER_YEAR : truth === "drift down" ? -DRIFT_MM_PER_YEAR : 0;
  return {
    ...DEFAULT_PART,
    part: "grip bearing",
    positions: ["A", "B", "C", "D"],
    partNumbers: [{ partNumber: "GB-100-1", fromMonth: 0 }],
    serialPrefix: "",
    replaceAtMm: REPLACE_AT_MM,
    unsafeAtMm: unsafeAt ? UNSAFE_AT_MM : null,
    beyondLimitFactor: DEFAULT_BEYOND_LIMIT_FACTOR,
    looks: { ...DEFAULT_LOOKS, earlyShare: TOLERANCE, lateShare: TOLERANCE },
    shapeExponent: truth === "accelerating" ? 1.4 : 1,
    spread:
      truth === "normal"
        ? { kind: "normal" }
        : truth === "two kinds"
          ? { kind: "bimodal", fastShare: 0.15, fastFactor: 2 }
          : { kind: "lognormal" },
    rates: [{ environment: "temperate", standard: "plain", medianMmPer1000h, logSd }],
    aircraftCorrelation: 0,
    intervals: [{ intervalHours: PRESENT_H }],
    gauge: { ...DEFAULT_GAUGE, detectionChance: DETECTION, driftMmPerYear: drift },
    batch: truth === "batch" ? { ...BATCH, fromMonth: 0, untilMonth: Number.POSITIVE_INFINITY } : null,
  };
}

/** Months simulated beyond the first report, for the two yearly reviews after it. */
export const MONTHS_AFTER = 24;

/** The fleet's maintenance, with its kind of trouble in it. */
export function settingsOf(fleet: StudyFleet, medianMmPer1000h: number): MaintenanceSettings {
  const { kind, before, months, aircraft } = fleet;
  const plain = partOf(fleet.truth, fleet.logSd, medianMmPer1000h, fleet.unsafeAt);
  const bases = [{ base: "Valley", environment: "temperate", aircraft, hoursPerMonth: HOURS_PER_MONTH }];
  // Looks are booked to the other base now and then, whose wear is three times as fast.
  if (kind === "wrong environment") bases.push({ ...bases[0]!, base: "Saltpan", environment: "sandy" });
  return {
    flying: {
      ...DEFAULT_FLYING,
      firstDay: dayOf(2006, 1, 1)!,
      months: before + months + MONTHS_AFTER,
      recordsBeginMonth: before,
      firstStandard: "plain",
      bases,
    },
    parts: [troubled(plain, fleet, medianMmPer1000h)],
  };
}

function troubled(
  part: PartSettings,
  { kind, wordsShare }: StudyFleet,
  medianMmPer1000h: number,
): PartSettings {
  const gauge = (more: Partial<PartSettings["gauge"]>) => ({ ...part, gauge: { ...part.gauge, ...more } });
  switch (kind) {
    case "aircraft alike 0.3":
      return { ...part, aircraftCorrelation: 0.3 };
    case "aircraft alike 0.5":
      return { ...part, aircraftCorrelation: 0.5 };
    case "wrong environment": {
      const sandy = { ...part.rates[0]!, environment: "sandy", medianMmPer1000h: 3 * medianMmPer1000h };
      return { ...gauge({ wrongBaseShare: 0.05 }), rates: [...part.rates, sandy] };
    }
    case "cautious mechanics":
      return { ...part, removals: { ...DEFAULT_REMOVALS, cautiousChance: 0.3 } };
    case "looks without numbers":
      return gauge({ wordsOnlyShare: wordsShare });
    case "heaping":
      return gauge({ heapingChance: 0.6 });
    case "batch after the decision":
      return { ...part, batch: null };
    default:
      return part;
  }
}
