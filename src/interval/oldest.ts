/** The oldest component fitted, and its chance of being over the limit at its next look. */
import type { ReadExports } from "../records/exports.ts";
import type { Life } from "../records/life.ts";
import type { GroupEvidence, Lines } from "./evidence.ts";
import type { SurvivalQuantity } from "./lines.ts";
import type { Recommendation } from "./month-result.ts";
import { worse } from "./risks.ts";

/** A life that still runs in this group: not removed, not moved on, and good at its last look. */
export const isRunning = ({ end }: Life): boolean => end === "still fitted";

/** @param spacingH  hours to the next look, lateness included */
export function oldestFitted(
  { lives }: GroupEvidence,
  exports: ReadExports,
  spacingH: number,
  lines: Lines,
): Recommendation["oldest"] {
  let oldest: Life | null = null;
  for (const life of lives) {
    if (
      isRunning(life) &&
      life.lookHours.length > 0 &&
      (oldest === null || life.lowerHours > oldest.lowerHours)
    )
      oldest = life;
  }
  if (oldest === null) return null;
  const hours = oldest.lowerHours;
  const quantity: SurvivalQuantity = (survival) => {
    const now = survival(hours);
    return now <= 0 ? 1 : 1 - survival(hours + spacingH) / now;
  };
  const chances = [lines.life, lines.wear].map((line) =>
    line.kind === "line" ? line.line.bounded(quantity) : null,
  );
  const chanceNextLook = chances.reduce(worse, null);
  if (chanceNextLook === null) return null;
  return { serial: exports.components.serial[oldest.component]!, hours, chanceNextLook };
}
