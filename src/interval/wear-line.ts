/**
 * The wear line: the fitted distribution of rates as a survival curve, and the unsafe-at risk that only it can give.
 *
 * A fitted tail is an assumption and the tail decides, so each number is the worst of the fitted spread, the plain mean
 * over observed component rates, and a two-part mixture where that fits better. Upper bounds also take the exponent of
 * a + b·hours^c at its own upper bound: what the readings can't exclude is reckoned with.
 */
import type { GroupReadings } from "../records/event-table.ts";
import type { UnreadRemovals } from "../records/unread-removals.ts";
import { componentSums } from "../wear/component-sums.ts";
import { type Curvature, powerHours, powerOf, wearCurvature } from "../wear/curvature.ts";
import { type DecisionFit, fitDecision } from "../wear/decision-fit.ts";
import type { DecisionData } from "../wear/decision-likelihood.ts";
import { type LikelihoodRegion, likelihoodRegion } from "../wear/likelihood-region.ts";
import { type RateParameters, survivalCurveBelow } from "../wear/rate-families.ts";
import { overLimitAtRate, type RateTail, rateTail } from "../wear/tail.ts";
import type { BoundSide, SurvivalLine, SurvivalQuantity } from "./lines.ts";
import type { Bounded } from "./month-result.ts";
import { type RatePart, type UnsafeSetting, unsafeRiskObserved, unsafeRiskOf } from "./rate-risk.ts";

export interface WearLine extends SurvivalLine {
  readonly method: "wear";
  readonly fit: DecisionFit;
  readonly data: DecisionData;
  readonly curvature: Curvature;
  /** Tail of each fit to all components. */
  readonly tails: readonly RateTail[];
  /** Bounds of any number made from the fitted rates alone; "upper" is the worse side. */
  readonly fitted: (risk: (parameters: RateParameters) => number) => Bounded;
  readonly unsafe: (setting: UnsafeSetting, spacingH: number, side?: BoundSide) => Bounded;
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
      readonly clocks: readonly [ClockedFits, ...ClockedFits[]];
      readonly curvature: Curvature;
    }
  | { readonly kind: "none"; readonly why: string };

/** Over this share of removals by wear without the reading that led to them, the readings that remain mislead. */
const MOST_UNREAD = 0.1;

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
  if (unread.unread > MOST_UNREAD * unread.byWear) {
    const why = `${unread.unread} of ${unread.byWear} removals by wear lack the reading that led to them; at most 10 % may: without the fastest readings any fit is too slow`;
    return { kind: "none", why };
  }
  const straight = fitOnClock(readings, replaceAtMm, 1);
  if (straight.kind === "none") return straight;
  const curvature = wearCurvature(readings.table, confidence);
  const bend = curvature.kind === "fitted" ? Math.max(1, curvature.upper) : 1;
  const bent = bend > 1 ? fitOnClock(readings, replaceAtMm, bend) : null;
  return {
    kind: "fits",
    curvature,
    clocks: bent?.kind === "clock" ? [straight.clock, bent.clock] : [straight.clock],
  };
}

function fitOnClock(
  readings: GroupReadings,
  replaceAtMm: number,
  exponent: number,
): { readonly kind: "clock"; readonly clock: ClockedFits } | { readonly kind: "none"; readonly why: string } {
  const table = exponent === 1 ? readings.table : powerHours(readings.table, exponent);
  const entryHours =
    exponent === 1 ? readings.entryHours : readings.entryHours.map((hours) => powerOf(hours, exponent));
  const data = { sums: componentSums(table), entryHours, aircraft: readings.cluster, replaceAtMm };
  const fit = fitDecision(data);
  if (fit.kind !== "fitted") return { kind: "none", why: fit.why };
  const tails = fit.fits.filter(({ sample }) => sample === "all").map((each) => rateTail(data, each));
  return { kind: "clock", clock: { exponent, fit, data, tails } };
}

/** The wear line of a group's fits, for one-sided bounds at a confidence. */
export function wearLine(fits: WearFits, replaceAtMm: number, confidence: number): WearLineResult {
  if (fits.kind === "none") return fits;
  const clocks = fits.clocks.map((clock) => ({
    ...clock,
    regions: clock.fit.fits.map((each) => likelihoodRegion(each, confidence)),
  }));
  const straight = clocks[0]!;
  const { components, readings } = straight.data.sums;
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
    bounded: (quantity, side = "both") =>
      worstClock(clocks, side, (at, wanted) => survivalBounds(at, quantity, replaceAtMm, wanted)),
    estimated: (quantity) => survivalBounds(straight, quantity, replaceAtMm, "estimate").estimate,
    unsafe: (setting, spacingH, side = "both") =>
      worstClock(clocks, side, (at, wanted) => unsafeBounds(at, setting, spacingH, wanted)),
  };
  return { kind: "line", line };
}

/** The straight clock gives estimate and lower bound; any clock that the readings can't exclude, the upper bound. */
function worstClock(
  clocks: readonly Clocked[],
  side: BoundSide,
  boundsAt: (clock: Clocked, side: Wanted) => Bounded,
): Bounded {
  const straight = boundsAt(clocks[0]!, side);
  const bent = clocks.slice(1).map((clock) => boundsAt(clock, "upper"));
  return { ...straight, upper: Math.max(straight.upper!, ...bent.map(({ upper }) => upper!)) };
}

type Wanted = BoundSide | "estimate";

/** Below so many components followed from new, their own fit is a check of the estimate and no basis for a bound. */
const FROM_NEW_FOR_BOUND = 50;

/** Of the fits that count (families not told apart, all components and those followed from new) the worse value. */
function worstFit(
  { regions }: Clocked,
  risk: (parameters: RateParameters) => number,
  wanted: Wanted,
): Bounded {
  const all = regions.map((region) => {
    const { sample, components, parameters } = region.fit;
    const bounding = sample === "all" || components >= FROM_NEW_FOR_BOUND;
    if (bounding && wanted !== "estimate") return region.bound(risk, wanted);
    const estimate = risk(parameters);
    return { estimate, lower: Number.NEGATIVE_INFINITY, upper: estimate };
  });
  const most = (pick: (bound: { estimate: number; lower: number; upper: number }) => number) =>
    Math.max(...all.map(pick));
  return {
    estimate: most((b) => b.estimate),
    lower: wanted === "both" ? most((b) => b.lower) : null,
    upper: most((b) => b.upper),
  };
}

/** Raises estimate and upper bound to what the observed rates or a mixture say, where that is worse. */
const withTails = (fitted: Bounded, others: readonly number[]): Bounded => ({
  ...fitted,
  estimate: Math.max(fitted.estimate, ...others),
  upper: Math.max(fitted.upper!, ...others),
});

function survivalBounds(
  clock: Clocked,
  quantity: SurvivalQuantity,
  limitMm: number,
  wanted: Wanted,
): Bounded {
  const onClock = (hours: number) => (clock.exponent === 1 ? hours : powerOf(hours, clock.exponent));
  const of = (parameters: RateParameters) => {
    const curve = survivalCurveBelow(parameters, limitMm);
    return clock.exponent === 1 ? curve : (hours: number) => curve(onClock(hours));
  };
  const others = clock.tails.flatMap((tail) => {
    const observed = quantity((hours) => observedSurvival(tail, onClock(hours), limitMm));
    const parts = mixtureParts(tail);
    if (parts === null) return [observed];
    const curves = parts.map(({ share, parameters }) => ({ share, survival: of(parameters) }));
    return [
      observed,
      quantity((hours) => curves.reduce((sum, { share, survival }) => sum + share * survival(hours), 0)),
    ];
  });
  return withTails(
    worstFit(clock, (parameters) => quantity(of(parameters)), wanted),
    others,
  );
}

function unsafeBounds(clock: Clocked, setting: UnsafeSetting, spacingH: number, wanted: Wanted): Bounded {
  const { exponent } = clock;
  const others = clock.tails.flatMap((tail) => {
    const { rateMmPer1000Hours, weight } = tail.rates;
    const observed = unsafeRiskObserved(
      rateMmPer1000Hours,
      weight,
      tail.fit.parameters,
      setting,
      spacingH,
      exponent,
    );
    const parts = mixtureParts(tail);
    return parts === null ? [observed] : [observed, unsafeRiskOf(parts, setting, spacingH, exponent)];
  });
  return withTails(
    worstFit(
      clock,
      (parameters) => unsafeRiskOf([{ share: 1, parameters }], setting, spacingH, exponent),
      wanted,
    ),
    others,
  );
}

function observedSurvival({ fit, rates }: RateTail, hours: number, limitMm: number): number {
  const { rateMmPer1000Hours, weight } = rates;
  let below = 0;
  let weights = 0;
  for (let i = 0; i < weight.length; i++) {
    below += weight[i]! * (1 - overLimitAtRate(fit.parameters, rateMmPer1000Hours[i]!, hours, limitMm));
    weights += weight[i]!;
  }
  return below / weights;
}

function mixtureParts({ mixture }: RateTail): RatePart[] | null {
  if (mixture === null) return null;
  return [
    { share: 1 - mixture.share, parameters: mixture.most },
    { share: mixture.share, parameters: mixture.fast },
  ];
}
