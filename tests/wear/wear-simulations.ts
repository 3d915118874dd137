import { fitFamily } from "../../src/wear/decision-fit.ts";
import { likelihoodRegion } from "../../src/wear/likelihood-region.ts";
import { fitMixedModel } from "../../src/wear/mixed-model.ts";
import { rateQuantile, survivalBelowLimit } from "../../src/wear/rate-families.ts";
import { simulateWear } from "./simulate-wear.ts";

/** What simulateWear draws from unless told otherwise. */
const TRUTH = {
  family: "lognormal" as const,
  interceptMm: 0.02,
  interceptSdMm: 0.01,
  measurementSdMm: 0.015,
  location: Math.log(0.25),
  spread: 0.4,
};

export interface Coverage {
  readonly components: number;
  readonly aircraftCorrelation: number;
  readonly fleets: number;
  /** Share of fleets whose one-sided 95 % bound holds the truth. */
  readonly fastestInThousand: number;
  readonly belowLimitAt660Hours: number;
}

/** Coverage of the decision fit's one-sided 95 % bounds: fleets of four components an aircraft, followed from new. */
export function boundCoverage(components: number, aircraftCorrelation: number, fleets: number): Coverage {
  let fastest = 0;
  let below = 0;
  let fitted = 0;
  for (let k = 0; k < fleets; k++) {
    const seed = 1000 * components + k;
    const data = simulateWear({ seed, components, perAircraft: 4, aircraftCorrelation, fromNew: true });
    const result = fitFamily(data, "lognormal", "all");
    if (result.kind !== "fitted") continue;
    fitted++;
    const region = likelihoodRegion(result.fit, 0.95);
    const fast = region.bound((p) => rateQuantile(p, 0.999), "upper").upper;
    const survival = region.bound((p) => survivalBelowLimit(p, 660, 0.5), "lower").lower;
    if (fast >= rateQuantile(TRUTH, 0.999)) fastest++;
    if (survival <= survivalBelowLimit(TRUTH, 660, 0.5)) below++;
  }
  return {
    components,
    aircraftCorrelation,
    fleets: fitted,
    fastestInThousand: round(fastest / fitted),
    belowLimitAt660Hours: round(below / fitted),
  };
}

export interface Bias {
  readonly recordHours: number;
  readonly fleets: number;
  /** Hours at which one component in ten is at the limit, over the truth: mean over fleets. */
  readonly plainReml: number;
  readonly decisionFit: number;
}

/** How far plain REML and the decision fit are off on short records, where those met late are the slow ones. */
export function recordBias(recordHours: number, fleets: number, components = 150): Bias {
  const truth = (0.5 - TRUTH.interceptMm) / rateQuantile(TRUTH, 0.9);
  let plain = 0;
  let decided = 0;
  let fitted = 0;
  for (let seed = 1; seed <= fleets; seed++) {
    const data = simulateWear({ seed, components, recordHours });
    const reml = fitMixedModel(data.sums);
    const result = fitFamily(data, "lognormal", "all");
    if (reml.kind !== "fitted" || result.kind !== "fitted") continue;
    fitted++;
    const rate = reml.rateMmPer1000Hours.estimate + 1.281552 * reml.componentSd.rateMmPer1000Hours;
    plain += (0.5 - reml.interceptMm.estimate) / rate / truth;
    const { parameters } = result.fit;
    decided += (0.5 - parameters.interceptMm) / rateQuantile(parameters, 0.9) / truth;
  }
  return {
    recordHours,
    fleets: fitted,
    plainReml: round(plain / fitted),
    decisionFit: round(decided / fitted),
  };
}

const round = (share: number): number => Number(share.toFixed(3));
