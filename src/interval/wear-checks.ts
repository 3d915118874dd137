/** What stands beside a group's wear rate: a second opinion, the shape of wear with what follows from it, the measuring. */
import type { Life } from "../records/life.ts";
import { looksWithNumber as withNumber } from "../records/life-readings.ts";
import { isoDate, published } from "../units.ts";
import { componentSums } from "../wear/component-sums.ts";
import { type Curvature, groupCurvature } from "../wear/curvature.ts";
import {
  gaugeResolution,
  type Heaping,
  heapingBelow,
  oddReadings,
  repeatScatter,
} from "../wear/measurement.ts";
import { type RateChange, rateChange } from "../wear/rate-change.ts";
import { theilSenWear } from "../wear/robust-slope.ts";
import type { GroupEvidence } from "./evidence.ts";
import type { Bounded } from "./month-result.ts";

/** A reading far off the line of its component's other readings. It stays in every fit. */
export interface OddReading {
  readonly serial: string;
  readonly hours: number;
  readonly wearMm: number;
  /** Distance from the line, in standard deviations of a reading. */
  readonly standardised: number;
  /** How its component's own rate would change without it. */
  readonly influenceMmPer1000H: number;
}

/** The same with its place in the exports, file:line. */
export interface OddLine extends OddReading {
  readonly source: string;
}

/** The same with what its row is found by. */
export interface UnplacedOdd extends OddReading {
  readonly component: number;
  /** Days of its life's readings. */
  readonly days: Life["readingDays"];
}

export interface WearMeasurement<Odd extends OddReading = OddLine> {
  /** Scatter of readings of one component at the same hours, and how many repeats that rests on; null without any. */
  readonly repeatSdMm: number | null;
  readonly repeats: number;
  /** Step of the gauge that nearly all readings keep to; null: none noticed. */
  readonly gaugeStepMm: number | null;
  readonly heaping: Heaping;
  /** Looks that were due and made, and those of them with a number. */
  readonly looks: number;
  readonly looksWithNumber: number;
  /** Farthest off first; at most `MOST_ODD` of `oddCount`. */
  readonly odd: readonly Odd[];
  readonly oddCount: number;
}

export interface WearShape {
  readonly curvature: Curvature;
  /** Rate after the first `runningInHours` less the rate in them. */
  readonly runningIn: RateChange;
  readonly runningInHours: number | null;
  /** The first day of a quarter after which the rate changes most, at the confidence shared among all quarters tried. */
  readonly atDate: { readonly day: string; readonly change: RateChange; readonly tried: number } | null;
}

export interface WearChecks<Odd extends OddReading = OddLine> {
  /** Median over components of each one's own Theil–Sen slope, mm per 1000 h; null with too few components. */
  readonly robustRatePer1000H: Bounded | null;
  readonly shape: WearShape;
  readonly measurement: WearMeasurement<Odd>;
}

const MOST_ODD = 10;

export interface WearChecksInput {
  /** Serial of each component number. */
  readonly serials: readonly string[];
  /** Scatter of a reading by the group's fit; null without one, and then no reading is called odd. */
  readonly measurementSdMm: number | null;
  /** Present interval: running in is looked for in the first two. null: no task, so it is not looked for. */
  readonly intervalH: number | null;
  readonly confidence: number;
}

export function wearChecks(
  evidence: GroupEvidence,
  { serials, measurementSdMm, intervalH, confidence }: WearChecksInput,
): WearChecks<UnplacedOdd> {
  const { table } = evidence.readings;
  const { wear } = evidence.linesAt(confidence);
  const curvature =
    wear.kind === "line" ? wear.line.curvature : groupCurvature(evidence.readings, confidence);
  const robust = theilSenWear(table, confidence);
  return {
    robustRatePer1000H:
      robust.kind === "fitted" ? { estimate: robust.rate, lower: robust.lower, upper: robust.upper } : null,
    shape: shapeOf(evidence, curvature, intervalH, confidence),
    measurement: measurementOf(evidence, serials, measurementSdMm),
  };
}

function shapeOf(
  { readings }: GroupEvidence,
  curvature: Curvature,
  intervalH: number | null,
  confidence: number,
): WearShape {
  const { table, cluster } = readings;
  const runningInHours = intervalH === null ? null : 2 * intervalH;
  const after = table.hours.map((hours) =>
    runningInHours === null ? 0 : Math.max(0, hours - runningInHours),
  );
  return {
    curvature,
    runningInHours,
    runningIn: rateChange(table, after, cluster, confidence),
    atDate: strongestDate(readings, confidence),
  };
}

/** Days in a quarter of a year, nearly: only where to look is meant. */
const QUARTER_DAYS = 91;

function strongestDate(readings: GroupEvidence["readings"], confidence: number): WearShape["atDate"] {
  const days = readings.lives.flatMap(({ readingDays }) => readingDays);
  if (days.length === 0) return null;
  const first = days.reduce((least, day) => Math.min(least, day), days[0]!);
  const last = days.reduce((most, day) => Math.max(most, day), days[0]!);
  const tried: number[] = [];
  for (let day = first + 2 * QUARTER_DAYS; day <= last - 2 * QUARTER_DAYS; day += QUARTER_DAYS)
    tried.push(day);
  // Many dates are tried: each is held to its share of the error.
  const each = 1 - (1 - confidence) / Math.max(1, tried.length);
  let strongest: { day: number; change: RateChange; size: number } | null = null;
  for (const day of tried) {
    const change = rateChange(readings.table, hoursSince(readings, day), readings.cluster, each);
    if (change.kind !== "fitted") continue;
    const size = Math.abs(change.changeMmPer1000Hours) / (change.upper - change.lower);
    if (strongest === null || size > strongest.size) strongest = { day, change, size };
  }
  if (strongest === null) return null;
  return { day: isoDate(strongest.day), change: strongest.change, tried: tried.length };
}

/** Hours flown since a day up to each reading, by the line between the readings about that day. */
function hoursSince({ table, lives }: GroupEvidence["readings"], day: number): Float64Array {
  const since = new Float64Array(table.rows);
  let row = 0;
  for (const { readingDays, readingHours } of lives) {
    const after = readingDays.findIndex((one) => one > day);
    let hoursThen = Number.POSITIVE_INFINITY;
    if (after === 0) hoursThen = readingHours[0]!;
    else if (after > 0) {
      const [d0, d1] = [readingDays[after - 1]!, readingDays[after]!];
      const [h0, h1] = [readingHours[after - 1]!, readingHours[after]!];
      hoursThen = h0 + ((h1 - h0) * (day - d0)) / (d1 - d0);
    }
    for (const hours of readingHours) since[row++] = Math.max(0, hours - hoursThen);
  }
  return since;
}

function measurementOf(
  { readings, lives, part }: GroupEvidence,
  serials: readonly string[],
  sdMm: number | null,
): WearMeasurement<UnplacedOdd> {
  const { table } = readings;
  const repeats = repeatScatter(table);
  const odd = sdMm === null ? [] : oddReadings(table, componentSums(table), sdMm);
  // Two of three readings of a component are as far off as each other, but for rounding.
  const size = ({ standardised }: Pick<OddReading, "standardised">) => published(Math.abs(standardised));
  const farthest = [...odd].sort((a, b) => size(b) - size(a) || a.row - b.row);
  let looks = 0;
  let looksWithNumber = 0;
  for (const life of lives) {
    looks += life.lookHours.length;
    looksWithNumber += withNumber(life);
  }
  return {
    repeatSdMm: repeats.sdMm,
    repeats: repeats.degreesOfFreedom,
    gaugeStepMm: gaugeResolution(table),
    heaping: heapingBelow(table, part.replaceAtMm),
    looks,
    looksWithNumber,
    oddCount: odd.length,
    odd: farthest.slice(0, MOST_ODD).map(({ row, standardised, influenceMmPer1000Hours }) => {
      const life = readings.lives[table.component[row]!]!;
      return {
        serial: serials[life.component]!,
        hours: table.hours[row]!,
        wearMm: table.wearMm[row]!,
        standardised,
        influenceMmPer1000H: influenceMmPer1000Hours,
        component: life.component,
        days: life.readingDays,
      };
    }),
  };
}
