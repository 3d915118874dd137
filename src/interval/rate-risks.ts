/** Risks as functions of the rates, whichever way the rates are known: as a distribution, a mixture, or one by one. */
import { powerOf } from "../wear/curvature.ts";
import { observedBelow } from "../wear/observed-below.ts";
import { survivalCurveBelow } from "../wear/rate-families.ts";
import type { RateTail } from "../wear/tail.ts";
import type { SurvivalQuantity } from "./lines.ts";
import { type RatePart, type UnsafeSetting, unsafeRiskOf } from "./rate-risk.ts";
import { tighterShareObserved } from "./tighter-observed.ts";
import { type TighterLimits, tighterShareOf } from "./tighter-share.ts";
import { unsafeRiskObserved } from "./unsafe-observed.ts";

/** Hours count as hours^exponent where wear bends. */
export interface RateRisk {
  readonly ofParts: (parts: readonly RatePart[], exponent: number) => number;
  readonly ofObserved: (tail: RateTail, exponent: number) => number;
}

/** Hours on the clock of an exponent. */
const clockOf = (exponent: number) => (hours: number) => (exponent === 1 ? hours : powerOf(hours, exponent));

/** Any quantity of the chance of being still below a limit. */
export const survivalRisk = (quantity: SurvivalQuantity, limitMm: number): RateRisk => ({
  ofParts: (parts, exponent) => {
    if (parts.length === 1) return quantity(survivalCurveBelow(parts[0]!.parameters, limitMm, exponent));
    const curves = parts.map(({ share, parameters }) => ({
      share,
      below: survivalCurveBelow(parameters, limitMm, exponent),
    }));
    return quantity((hours, logHours) =>
      curves.reduce((sum, { share, below }) => sum + share * below(hours, logHours), 0),
    );
  },
  ofObserved: (tail, exponent) => quantity(observedBelow(tail, limitMm, exponent)),
});

/** Unsafe before it is seen, at hours between looks. */
export const unsafeRisk = (setting: UnsafeSetting, spacingH: number): RateRisk => ({
  ofParts: (parts, exponent) => unsafeRiskOf(parts, setting, spacingH, exponent),
  ofObserved: ({ rates, fit }, exponent) =>
    unsafeRiskObserved(rates, fit.parameters, setting, spacingH, exponent),
});

/** Over the original limit at a look, where components are replaced at a tighter one. */
export const tighterRisk = (limits: TighterLimits, spacingH: number, greatestAgeH: number): RateRisk => ({
  ofParts: (parts, exponent) =>
    tighterShareOf(parts, limits, spacingH, greatestAgeH, clockOf(exponent)).overLimit,
  ofObserved: (tail, exponent) =>
    tighterShareObserved(tail, limits, spacingH, greatestAgeH, clockOf(exponent)).overLimit,
});
