/**
 * The watch list's own record: each look already made is predicted from the readings before it, and what was predicted is
 * set against what was found. Of components given about 20 %, about 20 % should have been over.
 */
import { clopperPearson } from "../math/exact-bounds.ts";
import { chanceOverOf } from "../wear/component-posterior.ts";
import { sumsBefore } from "../wear/component-sums.ts";
import type { GroupEvidence } from "./evidence.ts";
import type { Bounded } from "./month-result.ts";

/** Looks whose predicted chance of being over lay between two levels. */
export interface WatchBand {
  readonly from: number;
  readonly to: number;
  readonly looks: number;
  /** Mean of what was predicted, and the share found over with exact two-sided bounds. */
  readonly predicted: number;
  readonly over: number;
  readonly share: Bounded;
}

const LEVELS = [0, 0.01, 0.05, 0.1, 0.3, 0.6, 1];

/** Looks of a group whose predicted chance of being over lay in one band: how many, the sum of the chances, how many over. */
export interface WatchTally {
  readonly looks: number;
  readonly predicted: number;
  readonly over: number;
}

/** Every look with a number after another one, by band (six of them); none in a group without a wear line. */
export function watchTally(group: GroupEvidence, confidence: number): WatchTally[] {
  const predictions = predictionsOf(group, confidence);
  return LEVELS.slice(1).map((to, k) => {
    const from = LEVELS[k]!;
    const own = predictions.filter(({ chance }) => chance >= from && (chance < to || to === 1));
    return {
      looks: own.length,
      predicted: own.reduce((sum, { chance }) => sum + chance, 0),
      over: own.filter((one) => one.over).length,
    };
  });
}

/** The tallies of groups put together, against exact bounds. Bands without a look are left out. */
export function watchRecord(tallies: readonly (readonly WatchTally[])[], confidence: number): WatchBand[] {
  return LEVELS.slice(1).flatMap((to, k) => {
    const sum = (pick: (tally: WatchTally) => number) =>
      tallies.reduce((total, bands) => total + pick(bands[k]!), 0);
    const looks = sum((tally) => tally.looks);
    if (looks === 0) return [];
    const over = sum((tally) => tally.over);
    const { lower, upper } = clopperPearson(over, looks, confidence);
    return {
      from: LEVELS[k]!,
      to,
      looks,
      predicted: sum(({ predicted }) => predicted) / looks,
      over,
      share: { estimate: over / looks, lower, upper },
    };
  });
}

interface Prediction {
  readonly chance: number;
  readonly over: boolean;
}

function predictionsOf(group: GroupEvidence, confidence: number): Prediction[] {
  const { wear } = group.linesAt(confidence);
  if (wear.kind === "none") return [];
  const limitMm = group.part.replaceAtMm;
  const { lives } = group.readings;
  // What was read before each look but the first: as if each were a component of its own.
  const sums = sumsBefore(lives);
  const fits = wear.line.fit.fits.filter(({ sample }) => sample === "all");
  const predictions: Prediction[] = [];
  // Place of a life's second reading in the sums.
  let second = 0;
  for (const { readingHours, readingWearMm } of lives) {
    // Nothing is predicted of a component that was over already.
    for (let k = 1; k < readingHours.length && readingWearMm[k - 1]! < limitMm; k++) {
      const chances = fits.map(({ parameters }) =>
        chanceOverOf(sums, second + k - 1, parameters, readingHours[k]!, limitMm, true),
      );
      // As on the list: of the fits that count, the worst.
      predictions.push({ over: readingWearMm[k]! >= limitMm, chance: Math.max(...chances) });
    }
    second += Math.max(0, readingHours.length - 1);
  }
  return predictions;
}
