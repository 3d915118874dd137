/**
 * The longest interval that the program's own risks would allow if the distribution of rates were known exactly: margins
 * for late looks and for wear past the limit included, as the decision has them. What the study's power is measured by.
 */
import { overLimitShare } from "../../src/interval/over-limit-share.ts";
import { type RatePart, type UnsafeSetting, unsafeRiskOf } from "../../src/interval/rate-risk.ts";
import { survivalRisk } from "../../src/interval/rate-risks.ts";
import { DEFAULT_PART } from "../../src/simulate/settings.ts";
import { ACCEPTABLE, BATCH, REPLACE_AT_MM, type StudyFleet, TOLERANCE } from "./kinds.ts";

/** Steps of the search. */
const STEP_H = 50;

/**
 * Hours in steps of 50, 0 where not even the first step holds; null where wear bends, as no rate is all that is true of it.
 *
 * @param greatestAgeH  as the decision reckons it from the record
 * @param setting       null without an unsafe-at limit
 */
export function idealLongest(
  { truth, logSd }: Pick<StudyFleet, "truth" | "logSd">,
  medianMmPer1000h: number,
  greatestAgeH: number,
  setting: UnsafeSetting | null,
): number | null {
  if (truth === "accelerating") return null;
  const parts = trueParts(truth, logSd, medianMmPer1000h);
  for (let intervalH = STEP_H; ; intervalH += STEP_H) {
    const spacingH = intervalH * (1 + TOLERANCE);
    const share = survivalRisk((survival) => overLimitShare(survival, spacingH, greatestAgeH), REPLACE_AT_MM);
    const holds =
      share.ofParts(parts, 1) <= ACCEPTABLE.overLimitPerInspection &&
      (setting === null || unsafeRiskOf(parts, setting, spacingH) <= ACCEPTABLE.unsafeBeforeSeen);
    if (!holds) return intervalH - STEP_H;
  }
}

function trueParts(truth: StudyFleet["truth"], logSd: number, median: number): RatePart[] {
  const { newWearMm, newWearSdMm, gauge } = DEFAULT_PART;
  const common = { interceptMm: newWearMm, interceptSdMm: newWearSdMm, measurementSdMm: gauge.scatterMm };
  const lognormal = (share: number, times: number): RatePart => ({
    share,
    parameters: { ...common, family: "lognormal", location: Math.log(times * median), spread: logSd },
  });
  if (truth === "normal") {
    return [
      { share: 1, parameters: { ...common, family: "normal", location: median, spread: logSd * median } },
    ];
  }
  if (truth === "two kinds") return [lognormal(0.85, 1), lognormal(0.15, 2)];
  if (truth === "batch") return [lognormal(1 - BATCH.share, 1), lognormal(BATCH.share, BATCH.factor)];
  return [lognormal(1, 1)];
}
