/** Checks of the models for the evidence rules. A check that can't be made is null, and its rule fails. */

import { quantileSorted } from "simple-statistics";
import type { EvidenceThresholds, Fleet } from "../fleet/fleet.ts";
import { alternativeRisk } from "../life/fit-checks.ts";
import { rounded } from "../math/rounded.ts";
import type { Life } from "../records/life.ts";
import { chanceOverOf } from "../wear/component-posterior.ts";
import { heapingBelow } from "../wear/measurement.ts";
import { rateQuantile } from "../wear/rate-families.ts";
import { rateShapeTest } from "../wear/rate-shape-test.ts";
import type { GroupEvidence, Lines } from "./evidence.ts";
import { linesAgree } from "./lines-agree.ts";
import { overLimitShare } from "./over-limit-share.ts";
import { type CheckResult, notMade, type RuleContext } from "./rule-context.ts";
import { isRunning } from "./watch-list.ts";

/** A check of chance fails a sound group this often. */
const LEVEL = 0.05;
/** Two checks share it: the spread as a whole, and the largest rate. */
const SPREAD_LEVEL = LEVEL / 2;
/** Fewest wear readings found over the limit for their 95th percentile to mean something. */
const FEWEST_FOUND = 20;

/** @param spacingH  hours between looks at the interval that is weighed, lateness included */
export function modelChecks(
  evidence: GroupEvidence,
  lines: Lines,
  spacingH: number,
  fleet: Fleet,
): RuleContext["checks"] {
  return {
    ...anySpacing(evidence, lines, fleet),
    fitAlternative: fitAlternative(evidence, lines, spacingH, fleet.evidence.fitChange),
    farFromLimit: farFromLimit(evidence, lines, spacingH, fleet.evidence),
    wearWhenFound: wearWhenFound(evidence, lines, spacingH),
  };
}

/** Checks of the lines themselves, made once for all intervals that are weighed and all tasks. */
type AnySpacing = Pick<
  RuleContext["checks"],
  "spreadAsModelled" | "heaping" | "linesAgree" | "upperExponent"
>;

const made = new WeakMap<Lines, { readonly fleet: Fleet; readonly checks: AnySpacing }>();

function anySpacing(evidence: GroupEvidence, lines: Lines, fleet: Fleet): AnySpacing {
  const known = made.get(lines);
  if (known?.fleet === fleet) return known.checks;
  const checks = {
    spreadAsModelled: spreadAsModelled(lines),
    heaping: heaping(evidence),
    linesAgree: linesAgree(evidence, lines, fleet.evidence.linesAgreeP),
    upperExponent: upperExponent(lines, fleet.evidence.upperExponent),
  };
  made.set(lines, { fleet, checks });
  return checks;
}

function spreadAsModelled({ wear }: Lines): CheckResult | null {
  if (wear.kind === "none") return notMade("wear line", wear.why);
  const { fit, rates } = wear.line.tails[0]!;
  const test = rateShapeTest(rates, fit.parameters);
  if (test.kind !== "tested") return null;
  return {
    passed: test.p >= SPREAD_LEVEL && test.largestP >= SPREAD_LEVEL,
    found: `Anderson–Darling p ${test.p.toPrecision(2)}; largest rate ${test.largestStandardised.toFixed(1)} standard deviations up, p ${test.largestP.toPrecision(2)}`,
  };
}

function heaping({ readings, part }: GroupEvidence): CheckResult | null {
  if (readings.table.rows === 0) return null;
  const { before, justBelow, from, p } = heapingBelow(readings.table, part.replaceAtMm);
  return {
    passed: p >= LEVEL,
    found: `${justBelow} readings just below the limit, ${before} in the step before, ${from} in the step above; p ${p.toPrecision(2)}`,
  };
}

/**
 * How much the over-limit share changes under the best other distribution. Where the shape is given, no distribution was
 * chosen: the worst of the shapes counts already.
 */
function fitAlternative(
  { families, greatestAgeH }: GroupEvidence,
  { life, lifeHorizon }: Lines,
  spacingH: number,
  most: number,
): CheckResult | null {
  if (life.kind === "line" && life.givenShape)
    return {
      passed: true,
      found: "no one distribution is taken for the lives: the worst of the given shapes counts",
    };
  const share = (survival: (hours: number) => number) =>
    overLimitShare(survival, spacingH, greatestAgeH, lifeHorizon);
  const other = alternativeRisk(families(), share);
  if (other === null) return life.kind === "none" ? notMade("life line", life.why) : null;
  const change = Math.abs(other.change);
  return {
    passed: change <= most,
    found: `${other.best.family} changes the over-limit share by ${Math.round(100 * change)} %`,
  };
}

/** Looks ahead for which a component must stay well below the limit. */
const LOOKS_AHEAD = 2;

/**
 * Of the components fitted, the share expected beyond a share of the limit by two more looks, each by its own readings: where
 * hardly any gets there, nobody flies blind through wear that no component was followed through.
 */
function farFromLimit(
  { readings, part }: GroupEvidence,
  { wear }: Lines,
  spacingH: number,
  { wearReadBeyondShareOfLimit, nearLimitSoon }: EvidenceThresholds,
): CheckResult | null {
  if (wear.kind === "none") return null;
  const { fit, data } = wear.line;
  const limitMm = wearReadBeyondShareOfLimit * part.replaceAtMm;
  const fits = fit.fits.filter(({ sample }) => sample === "all");
  let fitted = 0;
  let expected = 0;
  for (let i = 0; i < data.sums.components; i++) {
    const life = readings.lives[data.sums.component[i]!]!;
    if (!isRunning(life)) continue;
    const thenHours = (life.lookHours.at(-1) ?? life.lastHours) + LOOKS_AHEAD * spacingH;
    fitted++;
    expected += Math.max(
      ...fits.map(({ parameters }) => chanceOverOf(data.sums, i, parameters, thenHours, limitMm, false)),
    );
  }
  if (fitted === 0) return null;
  return {
    passed: expected <= nearLimitSoon * fitted,
    found: `${expected < 10 ? expected.toFixed(1) : Math.round(expected)} of ${fitted} fitted expected there by two more looks`,
  };
}

function upperExponent({ wear }: Lines, most: number): CheckResult | null {
  if (wear.kind === "none") return notMade("wear line", wear.why);
  const { curvature } = wear.line;
  if (curvature.kind !== "fitted") return { passed: false, found: `could not be computed: ${curvature.why}` };
  const { exponent, upper } = curvature;
  return {
    passed: upper <= most,
    found: `exponent ${exponent.toFixed(2)}, upper bound ${rounded(upper, 2, "up").toFixed(2)}`,
  };
}

/** Without an unsafe-at limit (with one the rule does not apply): how worn would a component be when found, against how worn they already were. */
function wearWhenFound(
  { lives, part }: GroupEvidence,
  { wear }: Lines,
  spacingH: number,
): CheckResult | null {
  if (part.unsafeAtMm !== null) return null;
  // Of a table of sums the highest reading of each life is known, but not each reading over the limit.
  if (wear.kind === "none" || lives.some(({ summed }) => summed !== undefined)) return null;
  const found = readingsOver(lives, part.replaceAtMm);
  if (found.length < FEWEST_FOUND)
    return { passed: false, found: `${found.length} readings over the limit, too few` };
  const known = quantileSorted(found, 0.95);
  const perHour = part.beyondLimitFactor / 1000;
  const { upper } = wear.line.fitted((p) => part.replaceAtMm + rateQuantile(p, 0.99) * perHour * spacingH);
  return {
    passed: upper !== null && upper <= known,
    found: `upper bound ${upper === null ? "none" : rounded(upper, 2, "up").toFixed(2)} mm; already found ${known.toFixed(2)} mm`,
  };
}

/** Readings at or over the limit of components that had not failed by then, ascending; gone through once for all intervals. */
function readingsOver(lives: readonly Life[], limitMm: number): readonly number[] {
  const known = over.get(lives);
  if (known?.limitMm === limitMm) return known.found;
  const found: number[] = [];
  for (const life of lives) {
    if (life.functionalFailureHours !== null) continue;
    for (const wearMm of life.readingWearMm) if (wearMm >= limitMm) found.push(wearMm);
  }
  found.sort((a, b) => a - b);
  over.set(lives, { limitMm, found });
  return found;
}

const over = new WeakMap<readonly Life[], { readonly limitMm: number; readonly found: readonly number[] }>();
