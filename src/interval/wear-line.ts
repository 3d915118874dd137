/**
 * The wear line: the fitted distribution of rates as a survival curve, and the unsafe-at risk that only it can give.
 *
 * A fitted tail is an assumption and the tail decides, so each number is the worst of the fitted spread, the plain mean
 * over observed component rates, and a two-part mixture where that fits better. Upper bounds also take the exponent of
 * a + b·hours^c at its own upper bound: what the readings can't exclude is reckoned with.
 */
import type { GroupReadings } from "../records/event-table.ts";
import type { UnreadRemovals } from "../records/unread-removals.ts";
import { componentSums, groupSums } from "../wear/component-sums.ts";
import { type Curvature, groupCurvature, powerHours, powerOf } from "../wear/curvature.ts";
import { type DecisionFit, fitDecision } from "../wear/decision-fit.ts";
import type { DecisionData } from "../wear/decision-likelihood.ts";
import { type LikelihoodRegion, likelihoodRegion, type RegionEdge } from "../wear/likelihood-region.ts";
import type { RateParameters } from "../wear/rate-families.ts";
import { type RateTail, rateTail } from "../wear/tail.ts";
import type { BoundSide, SurvivalLine } from "./lines.ts";
import type { Bounded } from "./month-result.ts";
import type { RatePart, UnsafeSetting } from "./rate-risk.ts";
import { type RateRisk, survivalRisk, unsafeRisk } from "./rate-risks.ts";

export interface WearLine extends SurvivalLine {
  readonly method: "wear";
  readonly fit: DecisionFit;
  readonly data: DecisionData;
  readonly curvature: Curvature;
  /** Tail of each fit to all components. */
  readonly tails: readonly RateTail[];
  /** The same line with another limit in place of the replace-at limit. */
  readonly belowLimit: (limitMm: number) => Pick<SurvivalLine, "bounded" | "estimated">;
  /** Bounds of any number made from the fitted rates alone; "upper" is the worse side. */
  readonly fitted: (risk: (parameters: RateParameters) => number) => Bounded;
  /** The same of the fits that have bounds: without those that are a check only, having too few components. */
  readonly fittedWithBounds: (risk: (parameters: RateParameters) => number) => Bounded;
  readonly unsafe: (setting: UnsafeSetting, spacingH: number, side?: Wanted) => Bounded;
  /** The same for any risk of the rates, tails and bend included. */
  readonly worst: (risk: RateRisk, side?: Wanted) => Bounded;
}

export type WearLineResult =
  | { readonly kind: "line"; readonly line: WearLine }
  | { readonly kind: "none"; readonly why: string };

/** The fits on one clock: hours as they are, or hours^exponent. */
interface ClockedFits {
  readonly exponent: number;
  readonly fit: DecisionFit;
  readonly data: DecisionData;
  readonly tails: readonly RateTail[];
}

/** The same with likelihood regions at one confidence. */
interface Clocked extends ClockedFits {
  readonly regions: readonly LikelihoodRegion[];
}

/** A group's fits, whatever the confidence of its bounds. */
export type WearFits =
  | {
      readonly kind: "fits";
      /** The straight clock, and the one at the exponent's upper bound where that is over 1. */
      readonly clocks: readonly [ClockedFits, ...ClockedFits[]];
      /** The clock at the exponent itself where the readings rule out that wear is straight; else null. */
      readonly established: ClockedFits | null;
      readonly curvature: Curvature;
    }
  | { readonly kind: "none"; readonly why: string };

/** Over this share of removals by wear without the reading that led to them, the readings that remain mislead. */
const MOST_UNREAD = 0.1;

/** Whether removals by wear have the reading that led to them, but for a few. */
export const mostlyRead = ({ unread, byWear }: UnreadRemovals): boolean => unread <= MOST_UNREAD * byWear;

/**
 * @param unread      removals by wear of this group, and how many lack their reading
 * @param confidence  one-sided, of the exponent's upper bound
 */
export function wearFits(
  readings: GroupReadings,
  unread: UnreadRemovals,
  replaceAtMm: number,
  confidence: number,
): WearFits {
  if (!mostlyRead(unread)) {
    const why = `${unread.unread} of ${unread.byWear} removals by wear ${unread.unread === 1 ? "lacks the reading that led to it" : "lack the reading that led to them"}; at most 10 % may: without the fastest readings any fit is too slow`;
    return { kind: "none", why };
  }
  const straight = fitOnClock(readings, replaceAtMm, 1);
  if (straight.kind === "none") return straight;
  const curvature = groupCurvature(readings, confidence);
  const bend = curvature.kind === "fitted" ? Math.max(1, curvature.upper) : 1;
  const bent = bend > 1 ? fitOnClock(readings, replaceAtMm, bend) : null;
  const bendsUp = curvature.kind === "fitted" && curvature.verdict === "bends up";
  const established = bendsUp ? fitOnClock(readings, replaceAtMm, curvature.exponent) : null;
  return {
    kind: "fits",
    curvature,
    clocks: bent?.kind === "clock" ? [straight.clock, bent.clock] : [straight.clock],
    established: established?.kind === "clock" ? established.clock : null,
  };
}

function fitOnClock(
  readings: GroupReadings,
  replaceAtMm: number,
  exponent: number,
): { readonly kind: "clock"; readonly clock: ClockedFits } | { readonly kind: "none"; readonly why: string } {
  const sums = exponent === 1 ? groupSums(readings) : componentSums(powerHours(readings.table, exponent));
  const entryHours =
    exponent === 1 ? readings.entryHours : readings.entryHours.map((hours) => powerOf(hours, exponent));
  const data = { sums, entryHours, aircraft: readings.cluster, replaceAtMm };
  const fit = fitDecision(data);
  if (fit.kind !== "fitted") return { kind: "none", why: fit.why };
  const tails = fit.fits.filter(({ sample }) => sample === "all").map((each) => rateTail(data, each));
  return { kind: "clock", clock: { exponent, fit, data, tails } };
}

/** The wear line of a group's fits, for one-sided bounds at a confidence. */
export function wearLine(
  fits: WearFits,
  replaceAtMm: number,
  confidence: number,
  edge: RegionEdge = "traced",
): WearLineResult {
  if (fits.kind === "none") return fits;
  const clocks = fits.clocks.map((clock) => ({
    ...clock,
    regions: clock.fit.fits.map((each) => likelihoodRegion(each, confidence, edge)),
  }));
  const straight = clocks[0]!;
  const { components, readings } = straight.data.sums;
  const worst: WearLine["worst"] = (risk, side = "both") => worstClock(clocks, fits.established, risk, side);
  const belowLimit: WearLine["belowLimit"] = (limitMm) => ({
    bounded: (quantity, side) => worst(survivalRisk(quantity, limitMm), side),
    estimated: (quantity) => worst(survivalRisk(quantity, limitMm), "estimate").estimate,
  });
  const line: WearLine = {
    method: "wear",
    standsOn: [
      `${straight.fit.fits[0]!.family} rates from ${readings} readings of ${components} components`,
      ...straight.fit.notFitted.map((family) => `the search for ${family} rates did not end`),
    ].join("; "),
    fit: straight.fit,
    data: straight.data,
    curvature: fits.curvature,
    tails: straight.tails,
    fitted: (risk) => worstFit(straight, risk, "both"),
    fittedWithBounds: (risk) =>
      worstFit({ ...straight, regions: straight.regions.filter(({ fit }) => hasBound(fit)) }, risk, "both"),
    belowLimit,
    ...belowLimit(replaceAtMm),
    unsafe: (setting, spacingH, side) => worst(unsafeRisk(setting, spacingH), side),
    worst,
  };
  return { kind: "line", line };
}

/**
 * The straight clock gives estimate and lower bound; any clock that the readings can't exclude, the upper bound. Where they
 * rule the straight one out, the estimate is the worse of it and of the clock at the exponent that they show.
 */
function worstClock(
  clocks: readonly Clocked[],
  established: ClockedFits | null,
  risk: RateRisk,
  side: Wanted,
): Bounded {
  const [straight, ...bent] = clocks as [Clocked, ...Clocked[]];
  const tails = riskOfTails(straight, risk);
  // Any number may be asked for, so also one below zero.
  let estimate = Math.max(fittedEstimate(straight, risk), tails);
  if (established !== null) {
    estimate = Math.max(estimate, fittedEstimate(established, risk), riskOfTails(established, risk));
  }
  if (side === "estimate") return { estimate, lower: null, upper: estimate };
  const enough = typeof side === "object" ? side.upTo : Number.POSITIVE_INFINITY;
  // The upper bound is no better than what the tails say.
  let upper = estimate;
  let lower: number | null = null;
  if (upper <= enough) {
    const fitted = worstFit(straight, ofFit(risk, straight.exponent), side);
    lower = fitted.lower;
    upper = Math.max(upper, fitted.upper);
  }
  const upperSide = side === "both" ? "upper" : side;
  for (const clock of bent) {
    if (upper <= enough) upper = Math.max(upper, riskOfTails(clock, risk));
    if (upper <= enough)
      upper = Math.max(upper, worstFit(clock, ofFit(risk, clock.exponent), upperSide).upper);
  }
  return { estimate, lower, upper };
}

/** Bounds, or only the best estimate with no bound: next to no work. */
type Wanted = BoundSide | "estimate";

/** Below so many components followed from new, their own fit is a check of the estimate and no basis for a bound. */
const FROM_NEW_FOR_BOUND = 50;

/** Whether a fit has bounds, or is a check of the estimate. */
export const hasBound = ({ sample, components }: DecisionFit["fits"][number]): boolean =>
  sample === "all" || components >= FROM_NEW_FOR_BOUND;

/** Of the fits that count (families not told apart, all components and those followed from new) the worse value. */
function worstFit(
  { regions }: Clocked,
  risk: (parameters: RateParameters) => number,
  side: BoundSide,
): { readonly estimate: number; readonly lower: number | null; readonly upper: number } {
  const enough = typeof side === "object" ? side.upTo : Number.POSITIVE_INFINITY;
  let estimate = Number.NEGATIVE_INFINITY;
  let lower = Number.NEGATIVE_INFINITY;
  let upper = Number.NEGATIVE_INFINITY;
  for (const region of regions) {
    if (hasBound(region.fit)) {
      const found = region.bound(risk, side);
      estimate = Math.max(estimate, found.estimate);
      lower = Math.max(lower, found.lower);
      upper = Math.max(upper, found.upper);
    } else {
      const found = risk(region.fit.parameters);
      estimate = Math.max(estimate, found);
      upper = Math.max(upper, found);
    }
    if (upper > enough) break;
  }
  return { estimate, lower: side === "both" ? lower : null, upper };
}

const ofFit = (risk: RateRisk, exponent: number) => (parameters: RateParameters) =>
  risk.ofParts([{ share: 1, parameters }], exponent);

/** What the observed rates and, where it fits better, a mixture say. */
function riskOfTails({ tails, exponent }: ClockedFits, risk: RateRisk): number {
  let worst = Number.NEGATIVE_INFINITY;
  for (const tail of tails) {
    worst = Math.max(worst, risk.ofObserved(tail, exponent));
    const parts = mixtureParts(tail);
    if (parts !== null) worst = Math.max(worst, risk.ofParts(parts, exponent));
  }
  return worst;
}

/** The worst of the fitted spreads' best estimates. */
const fittedEstimate = ({ fit, exponent }: ClockedFits, risk: RateRisk): number =>
  Math.max(...fit.fits.map(({ parameters }) => ofFit(risk, exponent)(parameters)));

function mixtureParts({ mixture }: RateTail): RatePart[] | null {
  if (mixture === null) return null;
  return [
    { share: 1 - mixture.share, parameters: mixture.most },
    { share: mixture.share, parameters: mixture.fast },
  ];
}
