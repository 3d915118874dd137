/** What is written down at a look: the gauge, the eye behind it, and the pen. */
import type { Random } from "../math/random.ts";
import type { LookRow } from "./rows.ts";
import type { PartSettings } from "./settings.ts";

const EDGE_MM = 1e-9;

/** A number to the gauge's step, without the dust of binary fractions. */
const toStep = (valueMm: number, stepMm: number): number =>
  Number((Math.max(0, Math.round(valueMm / stepMm)) * stepMm).toFixed(6));

export interface Written {
  readonly recorded: LookRow["recorded"];
  /** What the mechanic believes: at or over the limit. */
  readonly overLimit: boolean;
  readonly readMm: number;
}

/**
 * Read and write down one look at a component with this true wear.
 *
 * A look that doesn't see a component at or over the limit reads somewhere between the last reading and the limit.
 */
export function writeLook(
  part: PartSettings,
  trueMm: number,
  lastReadMm: number,
  month: number,
  random: Random,
): Written {
  const { gauge, replaceAtMm } = part;
  const biasMm = (gauge.driftMmPerYear * (month % gauge.calibrationMonths)) / 12;
  let readMm = toStep(trueMm + biasMm + gauge.scatterMm * random.normal(), gauge.resolutionMm);
  const justBelowMm = replaceAtMm - gauge.resolutionMm;
  if (readMm >= replaceAtMm - EDGE_MM && random.uniform() >= gauge.detectionChance) {
    const from = Math.min(lastReadMm, justBelowMm);
    readMm = Math.min(
      toStep(from + random.uniform() * (justBelowMm - from), gauge.resolutionMm),
      toStep(justBelowMm, gauge.resolutionMm),
    );
  }
  const heaped =
    readMm >= replaceAtMm - EDGE_MM &&
    readMm < replaceAtMm + gauge.heapingWindowMm &&
    gauge.heapingChance > 0 &&
    random.uniform() < gauge.heapingChance;
  if (heaped) readMm = toStep(justBelowMm, gauge.resolutionMm);
  const overLimit = readMm >= replaceAtMm - EDGE_MM;
  const inWords = gauge.wordsOnlyShare > 0 && random.uniform() < gauge.wordsOnlyShare;
  return {
    recorded: inWords ? { kind: "word", overLimit } : { kind: "number", wearMm: readMm },
    overLimit,
    readMm,
  };
}
