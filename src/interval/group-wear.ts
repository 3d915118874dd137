/** Wear of a group as it is reported: the REML line with its band, and what the decision stands on. */
import { standardNormalQuantile } from "../math/distributions.ts";
import type { GroupReadings } from "../records/event-table.ts";
import { lastReading } from "../records/life-readings.ts";
import { groupSums } from "../wear/component-sums.ts";
import { fitMixedModel, type MixedModel } from "../wear/mixed-model.ts";
import { type RateParameters, rateQuantile } from "../wear/rate-families.ts";
import type { Bounded, GroupWear } from "./month-result.ts";
import { hasBound, type WearLine, type WearLineResult } from "./wear-line.ts";

const BAND_POINTS = 41;
/** 90 % of components' readings lie in the band. */
const BAND_Z = standardNormalQuantile(0.95);

/** A group's wear as the pages show it: bounds two-sided at the confidence. */
export function groupWear(readings: GroupReadings, wear: WearLineResult, confidence: number): GroupWear {
  const sums = groupSums(readings);
  const fit = fitMixedModel(sums, confidence);
  const fitted = fit.kind === "fitted" ? fit : null;
  return {
    components: sums.components,
    readings: sums.readings,
    fit: fitted && reported(fitted),
    why: fit.kind === "fitted" ? null : fit.why,
    band: fitted ? wearBand(fitted, hoursRead(readings)) : [],
    decision: wear.kind === "line" ? decisionSummary(wear) : null,
    whyNoDecisionFit: wear.kind === "line" ? null : wear.why,
  };
}

function reported(fit: MixedModel): NonNullable<GroupWear["fit"]> {
  const bounded = ({ estimate, lower, upper }: Bounded): Bounded => ({ estimate, lower, upper });
  return {
    interceptMm: bounded(fit.interceptMm),
    ratePer1000H: bounded(fit.rateMmPer1000Hours),
    componentSdRate: fit.componentSd.rateMmPer1000Hours,
    componentSdInterceptMm: fit.componentSd.interceptMm,
    measurementSdMm: fit.measurementSdMm,
    cautions: fit.cautions,
  };
}

/** Hours of the readings; the last of each component where no more is known. */
const hoursRead = ({ table, lives }: GroupReadings): Float64Array =>
  table.rows > 0 ? table.hours : Float64Array.from(lives, (life) => lastReading(life)?.hours ?? 0);

/** Mean reading and the band of 90 % of components' readings, from zero to the last hours read. */
export function wearBand(fit: MixedModel, hours: Float64Array): GroupWear["band"] {
  const last = hours.reduce((most, value) => Math.max(most, value), 0);
  const { interceptMm, rateMmPer1000Hours, correlation } = fit.componentSd;
  return Array.from({ length: BAND_POINTS }, (_, i) => {
    const at = (last * i) / (BAND_POINTS - 1);
    const slopePart = (rateMmPer1000Hours * at) / 1000;
    const variance =
      interceptMm ** 2 +
      slopePart ** 2 +
      2 * (correlation ?? 0) * interceptMm * slopePart +
      fit.measurementSdMm ** 2;
    const meanMm = fit.interceptMm.estimate + (fit.rateMmPer1000Hours.estimate * at) / 1000;
    const half = BAND_Z * Math.sqrt(Math.max(0, variance));
    return { hours: at, meanMm, lowMm: meanMm - half, highMm: meanMm + half };
  });
}

function decisionSummary({
  line,
}: Extract<WearLineResult, { kind: "line" }>): NonNullable<GroupWear["decision"]> {
  const p99RatePer1000H = line.fittedWithBounds(p99);
  return {
    family:
      line.fit.decided === "undecided"
        ? "undecided between lognormal and normal; the worse counts"
        : line.fit.decided,
    medianRatePer1000H: line.fittedWithBounds((parameters) => rateQuantile(parameters, 0.5)),
    p99RatePer1000H,
    p99Check: fastestOfChecks(line, p99RatePer1000H.estimate),
  };
}

const p99 = (parameters: RateParameters): number => rateQuantile(parameters, 0.99);

/** The fastest 1 % by the fits that are only a check, where they are faster than an estimate. */
function fastestOfChecks(
  { fit }: WearLine,
  estimate: number,
): NonNullable<GroupWear["decision"]>["p99Check"] {
  const checks = fit.fits
    .filter((each) => !hasBound(each))
    .map(({ components, parameters }) => ({ components, ratePer1000H: p99(parameters) }))
    .sort((a, b) => b.ratePer1000H - a.ratePer1000H);
  const [fastest] = checks;
  return fastest !== undefined && fastest.ratePer1000H > estimate ? fastest : null;
}
