/**
 * What would change the answer, besides the acceptable risks, the confidence and the limit (what-if.ts): other
 * detection chances and unsafe-at limits, a year more of data, a tighter replace-at limit (every seal in tolerance:
 * seals-in.ts). Each is the longest interval that would be demonstrated; none is a recommendation.
 */
import type { Fleet } from "../fleet/fleet.ts";
import { addMonths, type Day } from "../units.ts";
import type { OtherSetting, WouldChange, YearMore } from "./choices-result.ts";
import type { GroupEvidence } from "./evidence.ts";
import type { Bounded, RiskAtInterval } from "./month-result.ts";
import type { UnsafeSetting } from "./rate-risk.ts";
import { worse } from "./risks.ts";
import { tighterLimit } from "./tighter-limit.ts";
import type { WouldChangeQuestion } from "./would-change-question.ts";

/** The answer under other settings, one at a time. */
export function wouldChange(question: WouldChangeQuestion): Omit<WouldChange, "sealsIn"> {
  return {
    detection: otherDetections(question),
    unsafeAt: otherUnsafeLimits(question),
    yearMore: yearMore(question),
    tighter: tighterLimit(question),
  };
}

/** Misses half as often, and twice as often. */
const MISS_FACTORS = [0.5, 2];
/** The unsafe-at limit times these. */
const UNSAFE_FACTORS = [0.9, 1.1];

function otherDetections(question: WouldChangeQuestion): OtherSetting[] {
  const setting = question.evidence.unsafeSetting;
  if (setting === null) return [];
  return MISS_FACTORS.flatMap((factor) => {
    const detectionChance = 1 - factor * (1 - setting.detectionChance);
    if (detectionChance <= 0) return [];
    const longestH = longestWithUnsafe(question, { ...setting, detectionChance }, factor < 1);
    return longestH === undefined ? [] : [{ value: detectionChance, longestH }];
  });
}

function otherUnsafeLimits(question: WouldChangeQuestion): OtherSetting[] {
  const setting = question.evidence.unsafeSetting;
  if (setting === null) return [];
  return UNSAFE_FACTORS.flatMap((factor) => {
    const unsafeAtMm = factor * setting.unsafeAtMm;
    if (unsafeAtMm <= setting.replaceAtMm) return [];
    const longestH = longestWithUnsafe(question, { ...setting, unsafeAtMm }, factor > 1);
    return longestH === undefined ? [] : [{ value: unsafeAtMm, longestH }];
  });
}

/**
 * Longest interval whose bounds hold under another unsafe setting; undefined without a wear line to say.
 *
 * @param milder  whether what holds now holds under it as well
 */
function longestWithUnsafe(
  question: WouldChangeQuestion,
  setting: UnsafeSetting,
  milder: boolean,
): number | null | undefined {
  const { lines, task, fleet, longestH } = question;
  const { wear } = lines;
  if (wear.kind === "none") return undefined;
  const acceptable = fleet.acceptable.unsafeBeforeSeen;
  return longestAround(question, (risk) => {
    if (milder && risk.intervalH === longestH) return true;
    if (!overLimitHolds(question, risk)) return false;
    const spacingH = risk.intervalH * (1 + task.tolerance);
    // The estimate is cheap and often settles it.
    if (wear.line.unsafe(setting, spacingH, "estimate").estimate > acceptable) return false;
    const { upper } = wear.line.unsafe(setting, spacingH, { upTo: acceptable });
    return upper !== null && upper <= acceptable;
  });
}

const overLimitHolds = (
  { fleet }: WouldChangeQuestion,
  { overLimitPerInspection }: RiskAtInterval,
): boolean => {
  const upper = worse(overLimitPerInspection.life, overLimitPerInspection.wear)?.upper;
  return upper != null && upper <= fleet.acceptable.overLimitPerInspection;
};

/**
 * The longest interval that holds, searched up or down from the present answer: what holds at an interval is taken to hold
 * at every shorter one.
 */
function longestAround(
  { risks, longestH }: WouldChangeQuestion,
  holds: (risk: RiskAtInterval) => boolean,
): number | null {
  let at = risks.findIndex(({ intervalH }) => intervalH === longestH);
  if (at >= 0 && !holds(risks[at]!)) {
    while (at >= 0 && !holds(risks[at]!)) at--;
    return risks[at]?.intervalH ?? null;
  }
  while (at + 1 < risks.length && holds(risks[at + 1]!)) at++;
  return risks[at]?.intervalH ?? null;
}

/**
 * A year more of data at the present pace, by an approximation: estimates stay, and the distance of a bound from its
 * estimate (of their logarithms) falls with the square root of the looks; where nothing was found, the bound itself falls
 * with the looks.
 */
function yearMore(question: WouldChangeQuestion): YearMore | null {
  const { evidence, fleet, asOf } = question;
  const { looks, lastYear: more } = looksMade(evidence.lives, asOf);
  if (looks === 0 || more === 0) return null;
  const kept = looks / (looks + more);
  const { overLimitPerInspection, unsafeBeforeSeen } = fleet.acceptable;
  const hold = (value: Bounded | null, acceptable: number) => {
    const upper = value === null ? null : narrowed(value, kept);
    return upper !== null && upper <= acceptable;
  };
  const longestH = longestAround(question, (risk) => {
    const { life, wear } = risk.overLimitPerInspection;
    const methods = [life, wear].filter((value) => value !== null);
    return (
      methods.length > 0 &&
      methods.every((value) => hold(value, overLimitPerInspection)) &&
      (evidence.part.unsafeAtMm === null || hold(risk.unsafeBeforeSeen, unsafeBeforeSeen))
    );
  });
  return { looks, more, longestH };
}

/**
 * Months at the present pace until the bounds at an interval would hold, by the same approximation; null where waiting
 * alone can't settle it: an estimate at or over what is acceptable, no bound, or no look in the last twelve months.
 */
export function monthsToSettle(
  risk: RiskAtInterval,
  { lives, part }: Pick<GroupEvidence, "lives" | "part">,
  { acceptable }: Fleet,
  asOf: Day,
): number | null {
  const { looks, lastYear: aYear } = looksMade(lives, asOf);
  const { life, wear } = risk.overLimitPerInspection;
  const held: [Bounded | null, number][] = [life, wear]
    .filter((value) => value !== null)
    .map((value) => [value, acceptable.overLimitPerInspection]);
  if (part.unsafeAtMm !== null) held.push([risk.unsafeBeforeSeen, acceptable.unsafeBeforeSeen]);
  let times = 1;
  for (const [value, level] of held) {
    if (value === null || value.upper === null || value.estimate >= level) return null;
    if (value.upper <= level) continue;
    const needed =
      value.estimate <= 0
        ? value.upper / level
        : (Math.log(value.upper / value.estimate) / Math.log(level / value.estimate)) ** 2;
    times = Math.max(times, needed);
  }
  if (aYear === 0 || held.length === 0 || times === 1) return null;
  return Math.ceil((12 * looks * (times - 1)) / aYear);
}

/** Looks of all lives, and those of them in the twelve months up to a day. */
function looksMade(lives: GroupEvidence["lives"], asOf: Day): { looks: number; lastYear: number } {
  const yearAgo = addMonths(asOf, -12);
  let looks = 0;
  let lastYear = 0;
  for (const { lookDays } of lives) {
    looks += lookDays.length;
    for (const day of lookDays) if (day > yearAgo) lastYear++;
  }
  return { looks, lastYear };
}

/** @param kept  share of the looks then that are there now */
function narrowed({ estimate, upper }: Bounded, kept: number): number | null {
  if (upper === null) return null;
  if (estimate <= 0) return upper * kept;
  return estimate * Math.exp(Math.sqrt(kept) * Math.log(upper / estimate));
}
