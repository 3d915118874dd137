/**
 * The risks with another replace-at limit, by the wear method alone. Over the limit then means over that one, and the
 * wear that is left before unsafe is counted from it. Past the limit that components are taken off at nobody has
 * followed them, so a longer way is gone faster there, by the part's beyond-limit factor.
 */
import type { GroupEvidence } from "./evidence.ts";
import type { Bounded, RiskAtInterval } from "./month-result.ts";
import { overLimitShare } from "./over-limit-share.ts";
import { UNSAFE } from "./risks.ts";
import type { WearLine } from "./wear-line.ts";

/** The replace-at limit times these. */
const LIMIT_FACTORS = [0.8, 0.9, 1, 1.1, 1.2];

export interface LimitRisks {
  readonly limitMm: number;
  /** Estimates alone. */
  readonly risks: readonly RiskAtInterval[];
  /**
   * What the part's own limit says of another: with a lower limit more is over it and less is unsafe, with a higher one the
   * other way round.
   */
  readonly compared: (name: string) => "at least" | "at most" | "same";
  /** The bound of a named risk at a confidence and interval, or where it is over `upTo` any number between. */
  readonly upperAt: (name: string, confidence: number, intervalH: number, upTo: number) => Bounded | null;
}

/** Ascending by limit; none at or over the unsafe-at limit, and none at all without a wear line. */
export function limitRisks(
  evidence: GroupEvidence,
  grid: readonly RiskAtInterval[],
  tolerance: number,
  confidence: number,
): LimitRisks[] {
  const { wear } = evidence.linesAt(confidence);
  if (wear.kind === "none") return [];
  const { replaceAtMm, unsafeAtMm } = evidence.part;
  return LIMIT_FACTORS.map((factor) => factor * replaceAtMm)
    .filter((limitMm) => unsafeAtMm === null || limitMm < unsafeAtMm)
    .map((limitMm) => atLimit(evidence, wear.line, grid, tolerance, limitMm));
}

function atLimit(
  evidence: GroupEvidence,
  published: WearLine,
  grid: readonly RiskAtInterval[],
  tolerance: number,
  limitMm: number,
): LimitRisks {
  const { part, greatestAgeH, unsafeSetting } = evidence;
  const beyondMm = Math.max(0, limitMm - part.replaceAtMm);
  const reachedMm = limitMm - beyondMm + beyondMm / part.beyondLimitFactor;
  const setting = unsafeSetting && { ...unsafeSetting, replaceAtMm: limitMm };
  const share = (intervalH: number) => (survival: (hours: number) => number) =>
    overLimitShare(survival, intervalH * (1 + tolerance), greatestAgeH);
  const estimateOnly = (estimate: number): Bounded => ({ estimate, lower: null, upper: null });
  return {
    limitMm,
    compared: (name) => {
      if (limitMm === part.replaceAtMm) return "same";
      return limitMm < part.replaceAtMm === (name !== UNSAFE) ? "at least" : "at most";
    },
    risks: grid.map(({ intervalH }) => {
      const unsafe = setting && published.unsafe(setting, intervalH * (1 + tolerance), "estimate");
      const wear = estimateOnly(published.belowLimit(reachedMm).estimated(share(intervalH)));
      return {
        intervalH,
        overLimitPerInspection: { life: null, wear },
        unsafeBeforeSeen: unsafe && estimateOnly(unsafe.estimate),
      };
    }),
    upperAt: (name, confidence, intervalH, upTo) => {
      const { wear } = evidence.roughLinesAt(confidence);
      if (wear.kind === "none") return null;
      if (name !== UNSAFE) return wear.line.belowLimit(reachedMm).bounded(share(intervalH), { upTo });
      return setting && wear.line.unsafe(setting, intervalH * (1 + tolerance), { upTo });
    },
  };
}
