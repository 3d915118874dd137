/**
 * Predicted against found: the over-limit finds that a line of then predicts for the very looks made later, each look
 * given that the one before was good. A line predicts with what decisions counted with: where several fits are open, the
 * one that predicts most.
 */
import type { Lines } from "../interval/evidence.ts";
import type { SurvivalLine } from "../interval/lines.ts";
import { countPValue } from "../interval/lines-agree.ts";
import type { LaterLook } from "./later-looks.ts";
import type { CountRecord, Method } from "./record-result.ts";

/** One look as it was predicted. */
export interface PredictedLook {
  readonly look: LaterLook;
  readonly chance: number;
}

export interface PredictedCount {
  readonly method: Method;
  readonly record: CountRecord;
  readonly looks: readonly PredictedLook[];
}

/** Both lines' predictions of the looks of their own kind; none where there is no line or no look. */
export function predictedCounts(lines: Lines, looks: readonly LaterLook[]): PredictedCount[] {
  // The wear line knows components from the start of their lives in the group; after a move only the lives speak.
  const firstPieces = looks.filter(({ life }) => life.piece === 1);
  return [
    lines.life.kind === "line" ? predictedBy(lines.life.line, looks) : null,
    lines.wear.kind === "line" ? predictedBy(lines.wear.line, firstPieces) : null,
  ].filter((count) => count !== null);
}

/** The lives count a removal that was made early as over limit, so their line predicts it; the readings don't. */
export const isFound = (method: Method, { over, removedEarly }: LaterLook): boolean =>
  over || (method === "life" && removedEarly);

function predictedBy(line: SurvivalLine, looks: readonly LaterLook[]): PredictedCount | null {
  if (looks.length === 0) return null;
  let most = Number.NEGATIVE_INFINITY;
  let chances: readonly number[] = [];
  line.estimated((survival) => {
    const own = chancesOf(survival, looks);
    const sum = sumOf(own);
    if (sum > most) {
      most = sum;
      chances = own;
    }
    return sum;
  });
  const { lower, upper } = line.bounded((survival) => sumOf(chancesOf(survival, looks)));
  const found = looks.filter((look) => isFound(line.method, look)).length;
  return {
    method: line.method,
    record: {
      method: line.method,
      looks: looks.length,
      predicted: { estimate: most, lower, upper },
      found,
      p: countPValue(chances, found),
    },
    looks: looks.map((look, i) => ({ look, chance: chances[i]! })),
  };
}

/** Chance of each look to find the component over the limit. */
function chancesOf(survival: (hours: number) => number, looks: readonly LaterLook[]): number[] {
  const known = new Map<number, number>();
  const at = (hours: number) => {
    const value = known.get(hours) ?? survival(hours);
    known.set(hours, value);
    return value;
  };
  return looks.map(({ beforeHours, hours }) => {
    const before = at(beforeHours);
    return before > 0 ? Math.min(1, Math.max(0, 1 - at(hours) / before)) : 1;
  });
}

/** Sum of numbers, in their order. */
export const sumOf = (values: readonly number[]): number => values.reduce((sum, value) => sum + value, 0);
