/**
 * Likelihood-ratio (profile) bounds for the shape, the scale and the life at a fraction failed.
 *
 * A value q is inside while 2 (l_max - max l given q) <= drop. For the life at fraction p, log hours q is
 * alpha + beta q = log(-log(1 - p)), a straight line in (alpha, beta); so each profile is a search in one variable.
 * The other quantities go through likelihood-region.ts.
 * Source: Meeker and Escobar (1998), sections 8.3.2 and 8.4; Venzon and Moolgavkar (1988), Applied Statistics 37, 87-94.
 */
import { power } from "../math/power.ts";
import { type Bounds, bounds } from "./likelihood-drop.ts";
import type { WeibullLikelihood } from "./likelihood-terms.ts";
import { topOnLine } from "./top-on-line.ts";
import type { FittedWeibull, LikeliestPoint } from "./weibull-fit.ts";

/** Beyond this distance in log units from the estimate a bound counts as not there: hours by 10^17, shapes by 10^5. */
const FARTHEST_LOG_HOURS = 40;
export const FARTHEST_LOG_SHAPE = 12;

/** Bounds of the shape. `drop` from likelihood-drop.ts. */
export function shapeBounds(fit: FittedWeibull, drop: number): Bounds {
  const se = Math.sqrt(fit.covariance.logShape);
  const profile = shapeProfile(fit);
  return twoSides({ fit, drop, farthest: FARTHEST_LOG_SHAPE, profile }, Math.log(fit.shape), se, Math.exp);
}

/** Bounds of the scale, in hours. */
export function scaleBounds(fit: FittedWeibull, drop: number): Bounds {
  return lifeBounds(fit, -Math.expm1(-1), drop);
}

/** The life in hours by which a fraction has had the event. */
export function lifeAt(parameters: { shape: number; scaleHours: number }, fraction: number): number {
  return parameters.scaleHours * power(-Math.log1p(-fraction), 1 / parameters.shape);
}

/** Bounds of the life, in hours, by which a fraction (0 to 1) has had the event. */
export function lifeBounds(fit: FittedWeibull, fraction: number, drop: number): Bounds {
  const target = Math.log(-Math.log1p(-fraction));
  const { logScale, both, logShape } = fit.covariance;
  // log t = log scale + target / shape.
  const k = -target / fit.shape;
  const se = Math.sqrt(logScale + 2 * k * both + k * k * logShape);
  const centre = fit.likelihood.centre;
  const estimate = Math.log(lifeAt(fit, fraction)) - centre;
  const profile = lifeProfile(fit, target);
  return twoSides({ fit, drop, farthest: FARTHEST_LOG_HOURS, profile }, estimate, se, (q) =>
    Math.exp(q + centre),
  );
}

/**
 * Twice the fall of the log-likelihood if the life at a fraction were `hours`: 0 at the estimate. The search begins where the
 * likelihood's curvature at its top puts the best shape for that.
 */
export function profileDeviance(
  likelihood: WeibullLikelihood,
  { alpha, beta, logLikelihood, before }: LikeliestPoint,
  fraction: number,
  hours: number,
): number {
  const target = Math.log(-Math.log1p(-fraction));
  const q = Math.log(hours) - likelihood.centre;
  const away = target - beta * q - alpha;
  const { hessAlphaAlpha: aa, hessAlphaBeta: ab, hessBetaBeta: bb } = before;
  const guess = beta + (away * (q * aa - ab)) / (q * q * aa - 2 * q * ab + bb);
  const start = guess > beta / 4 && guess < 4 * beta ? guess : beta;
  const top = topOnLine(likelihood, { alpha: target - start * q, beta: start }, { alpha: -q, beta: 1 });
  return 2 * (logLikelihood - top.at.value);
}

/** The best log-likelihood where the profiled quantity is `at`, and its slope there. */
type Profile = (at: number) => { value: number; slope: number };

interface Search {
  readonly fit: FittedWeibull;
  readonly drop: number;
  readonly farthest: number;
  readonly profile: Profile;
}

function twoSides(
  search: Search,
  estimate: number,
  standardError: number,
  back: (q: number) => number,
): Bounds {
  const lower = oneSide(search, estimate, standardError, -1);
  const upper = oneSide(search, estimate, standardError, 1);
  return bounds(lower === null ? null : back(lower), upper === null ? null : back(upper));
}

/**
 * Where the signed root of the profile's fall reaches the drop, by Newton inside a bracket: the root is nearly linear in
 * the quantity, and its slope is the slope of the profile.
 */
function oneSide(search: Search, estimate: number, standardError: number, side: 1 | -1): number | null {
  const { fit, drop, farthest, profile } = search;
  const wanted = Math.sqrt(drop);
  let inside = 0;
  let outside = Number.POSITIVE_INFINITY;
  let distance = Math.min(wanted * standardError, farthest / 2);
  for (let i = 0; i < 100; i++) {
    const { value, slope } = profile(estimate + side * distance);
    const root = Math.sqrt(Math.max(0, 2 * (fit.logLikelihood - value)));
    if (root < wanted) inside = distance;
    else outside = distance;
    if (inside >= farthest) return null;
    const rate = (-side * slope) / root;
    let next = distance + (wanted - root) / rate;
    // Newton doubles the digits: after so small a step all of them are right.
    if (Math.abs(next - distance) <= 1e-6 * distance) return estimate + side * next;
    if (outside - inside <= 1e-11 * distance) return estimate + side * distance;
    // A flat profile asks for a huge step, a steep one may point back past the bracket.
    if (!(next < Math.min(outside, 3 * distance))) {
      next = Number.isFinite(outside) ? (inside + outside) / 2 : Math.min(3 * distance, farthest);
    }
    if (!(next > inside))
      next = Number.isFinite(outside) ? (inside + outside) / 2 : Math.min(2 * distance, farthest);
    distance = next;
  }
  return estimate + side * distance;
}

/** Profile over the shape: alpha is free. The start moves along, since calls come in a sequence. */
function shapeProfile(fit: FittedWeibull): Profile {
  const { likelihood } = fit;
  let alpha = fit.alpha;
  return (logShape) => {
    const beta = Math.exp(logShape);
    const top = topOnLine(likelihood, { alpha, beta }, { alpha: 1, beta: 0 });
    alpha = top.alpha;
    return { value: top.at.value, slope: beta * top.at.gradBeta };
  };
}

/** Profile over the log life (less the centre): beta is free on alpha = target - beta q. */
function lifeProfile(fit: FittedWeibull, target: number): Profile {
  const { likelihood } = fit;
  let beta = fit.beta;
  return (q) => {
    const start = { alpha: target - beta * q, beta };
    const end = topOnLine(likelihood, start, { alpha: -q, beta: 1 });
    beta = end.beta;
    return { value: end.at.value, slope: -end.beta * end.at.gradAlpha };
  };
}
