/** The shape of lives that a group without a free Weibull takes from the part's other groups. */
import { type BorrowedShape, borrowedShape, FEWEST_LENDERS, risksWithShape } from "../life/borrowed-shape.ts";
import { survivalOf } from "../life/decision-line.ts";
import { aircraftNumbers, overLimitTable } from "../records/event-table.ts";
import type { Life } from "../records/life.ts";
import type { LifeTable } from "../records/life-table.ts";
import type { Borrowed } from "./borrowed-result.ts";
import type { GroupEvidence } from "./evidence.ts";
import type { SurvivalLine } from "./lines.ts";

/** What was asked and what came of it, with lines at a confidence where something was lent. */
export interface LentShape {
  readonly said: Borrowed;
  /** Early removals counted as events, and censored. */
  readonly lines: {
    readonly counted: (confidence: number) => SurvivalLine | null;
    readonly censored: (confidence: number) => SurvivalLine | null;
  } | null;
}

/** null where the group has a free fit, no line at all, or too few neighbours with one. */
export function lendShape(
  group: GroupEvidence,
  others: readonly GroupEvidence[],
  confidence: number,
  leastP: number,
): LentShape | null {
  const { life } = group.linesAt(confidence);
  if (life.kind === "none" || !life.givenShape) return null;
  const lending = others.flatMap((other) => {
    const { life: theirs } = other.linesAt(confidence);
    const free = theirs.kind === "line" && !theirs.givenShape && theirs.fit.kind === "fitted";
    return free ? [{ group: other, fit: theirs.fit }] : [];
  });
  if (lending.length < FEWEST_LENDERS) return null;
  const clusters = togetherNumbered(lending.map(({ group: { modelled } }) => modelled));
  const own = overLimitTable(group.modelled);
  const shared = borrowedShape(
    own,
    lending.map(({ group: { modelled }, fit }, g) => ({
      table: { ...overLimitTable(modelled), cluster: clusters[g]! },
      fit,
    })),
  );
  const base = {
    what: "shape of lives" as const,
    from: lending.map(({ group: { key } }) => key),
    alone: false,
  };
  const not = (p: number | null, refused: string): LentShape => ({
    said: { ...base, p, found: null, refused },
    lines: null,
  });
  if (shared.kind === "none") return not(null, shared.why);
  if (!(shared.p >= leastP)) {
    const own = shared.ownTest.p < shared.lendersTest.p;
    return not(shared.p, own ? "this group's lives do not have their shape" : "their own shapes differ");
  }
  const range = shared.rangeAt(confidence);
  if (range === null) return not(shared.p, "the common shape has no bounds");
  const early = group.modelled.some(({ end }) => end === "early removal");
  const censored = early ? overLimitTable(group.modelled, "censored") : own;
  return {
    said: {
      ...base,
      p: shared.p,
      found: `shape ${shared.shape.toFixed(1)} (${range.from.toFixed(1)} to ${range.to.toFixed(1)})`,
      refused: null,
    },
    lines: { counted: lineWith(own, shared), censored: lineWith(censored, shared) },
  };
}

/** An aircraft has one number in all sets of lives. */
export function togetherNumbered(sets: readonly (readonly Life[])[]): Int32Array[] {
  const { numbers } = aircraftNumbers(sets.flat());
  let from = 0;
  return sets.map((set) => {
    from += set.length;
    return numbers.slice(from - set.length, from);
  });
}

/** null at a confidence at which the shape has no bounds, or where no hours were flown between looks. */
function lineWith(table: LifeTable, shared: BorrowedShape): (confidence: number) => SurvivalLine | null {
  return (confidence) => {
    const range = shared.rangeAt(confidence);
    if (range === null) return null;
    const risks = risksWithShape(table, shared.shape, range, confidence);
    const bounded: SurvivalLine["bounded"] = (quantity) =>
      risks((parameters) => quantity(survivalOf(parameters)));
    if (bounded((survival) => 1 - survival(1)).upper === null) return null;
    return {
      method: "life",
      standsOn: `Weibull of the other groups' common shape, ${range.from.toFixed(1)} to ${range.to.toFixed(1)}`,
      bounded,
      estimated: (quantity) => bounded(quantity).estimate,
    };
  };
}
