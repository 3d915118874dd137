/** The oldest component fitted, and its chance of being over the limit at its next look. */
import type { Life } from "../records/life.ts";
import type { GroupEvidence, Lines } from "./evidence.ts";
import type { SurvivalQuantity } from "./lines.ts";
import type { Bounded, Recommendation } from "./month-result.ts";
import { worse } from "./risks.ts";
import { isRunning, outlooks } from "./watch-list.ts";

/**
 * By its own readings where the wear line knows it; else by what the group's curves say of one so old, if they have a bound: an
 * estimate alone would pass for knowledge. null where nothing of it can be said.
 *
 * @param spacingH  hours to the next look, lateness included
 */
export function oldestFitted(
  evidence: GroupEvidence,
  serials: readonly string[],
  spacingH: number,
  lines: Lines,
): Recommendation["oldest"] {
  let oldest: Life | null = null;
  for (const life of evidence.lives) {
    if (!isRunning(life) || life.lookHours.length === 0) continue;
    if (oldest === null || life.lowerHours > oldest.lowerHours) oldest = life;
  }
  if (oldest === null) return null;
  const hours = oldest.lowerHours;
  const [own] = outlooks(evidence, lines, spacingH, (life) => life === oldest);
  const chanceNextLook =
    own === undefined
      ? chanceByGroup(lines, hours, spacingH)
      : { estimate: own.chanceByNextLook, lower: null, upper: null };
  if (chanceNextLook === null) return null;
  return { serial: serials[oldest.component]!, hours, chanceNextLook };
}

function chanceByGroup(lines: Lines, hours: number, spacingH: number): Bounded | null {
  const quantity: SurvivalQuantity = (survival) => {
    const now = survival(hours);
    return now <= 0 ? 1 : 1 - survival(hours + spacingH) / now;
  };
  const chances = [lines.life, lines.wear].map((line) =>
    line.kind === "line" ? line.line.bounded(quantity) : null,
  );
  const chance = chances.reduce(worse, null);
  return chance === null || chance.upper === null ? null : chance;
}
