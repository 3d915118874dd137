/** The spread of rates and the scatter that a group with too few components read takes from the part's other groups. */
import { power } from "../math/power.ts";
import { unreadRemovals } from "../records/unread-removals.ts";
import { borrowedSpread } from "../wear/borrowed-spread.ts";
import { componentRates } from "../wear/component-rates.ts";
import { groupSums } from "../wear/component-sums.ts";
import { LEAST_COMPONENTS, type RateFit } from "../wear/decision-fit.ts";
import type { DecisionData } from "../wear/decision-likelihood.ts";
import type { RegionEdge } from "../wear/likelihood-region.ts";
import { type PooledSpread, pooledSpread, type SpreadLender } from "../wear/pooled-spread.ts";
import { togetherNumbered } from "./borrow-shape.ts";
import type { Borrowed } from "./borrowed-result.ts";
import type { GroupEvidence } from "./evidence.ts";
import { FEWEST_AIRCRAFT } from "./lines.ts";
import { mostlyRead, type WearLine, wearLine } from "./wear-line.ts";

/** What was asked and what came of it, with a line at a confidence where something was lent. */
export interface LentSpread {
  readonly said: Borrowed;
  readonly lineAt: ((confidence: number, edge: RegionEdge) => WearLine) | null;
}

/** Fewest components and aircraft for a mean rate of one's own: as few as tell a machine from its fellows. */
const FEWEST_COMPONENTS = 3;
const FEWEST_LENDERS = 2;

/**
 * null where the group has a fit of its own, where its readings mislead (removals by wear without the reading that led to
 * them), where they are too few for a mean rate, or where fewer than two neighbours can lend.
 */
export function lendSpread(
  group: GroupEvidence,
  others: readonly GroupEvidence[],
  confidence: number,
  leastP: number,
): LentSpread | null {
  if (!isThin(group, confidence)) return null;
  const lending = others.flatMap((other) => {
    const lender = lenderOf(other, confidence);
    return lender === null ? [] : [{ group: other, ...lender }];
  });
  if (lending.length < FEWEST_LENDERS) return null;
  const { readings, part } = group;
  const [ownAircraft, ...aircraft] = togetherNumbered(
    [group, ...lending.map((each) => each.group)].map((each) => each.readings.lives),
  );
  const own: DecisionData = {
    sums: groupSums(readings),
    entryHours: readings.entryHours,
    aircraft: ownAircraft!,
    replaceAtMm: part.replaceAtMm,
  };
  const lenders = lending.map(({ fit, data }, g) => ({ fit, data: { ...data, aircraft: aircraft[g]! } }));
  const base = {
    what: "spread of rates" as const,
    from: lending.map((each) => each.group.key),
    alone: true,
  };
  const not = (p: number | null, refused: string): LentSpread => ({
    said: { ...base, p, found: null, refused },
    lineAt: null,
  });
  const pooled = pooledSpread(lenders);
  if (pooled.kind === "none") return not(null, pooled.why);
  const lent = borrowedSpread(own, pooled, lenders);
  if (lent.kind === "none") return not(null, lent.why);
  const p = Math.min(pooled.spreadP, pooled.allP, lent.ownP);
  if (!(p >= leastP)) {
    const differs = "readings do not have their spread and scatter";
    return not(p, lent.ownP === p ? `this group's ${differs}` : "their own spreads or scatters differ");
  }
  return {
    said: { ...base, p, found: foundOf(pooled), refused: null },
    lineAt: (level, edge) => lineOf(own, lent.fitFor(level), lenders, level, edge),
  };
}

function isThin(group: GroupEvidence, confidence: number): boolean {
  const { readings, lives } = group;
  if (group.linesAt(confidence).wear.kind === "line") return false;
  const { components, readings: rows } = groupSums(readings);
  const aircraft = new Set(readings.lives.map((life) => life.aircraft)).size;
  return (
    mostlyRead(unreadRemovals(lives)) &&
    components >= FEWEST_COMPONENTS &&
    aircraft >= FEWEST_AIRCRAFT &&
    (components < LEAST_COMPONENTS || rows - components < LEAST_COMPONENTS)
  );
}

/** A group lends its lognormal fit, unless its readings rule that out. */
function lenderOf(group: GroupEvidence, confidence: number): SpreadLender | null {
  const { wear } = group.linesAt(confidence);
  if (wear.kind === "none") return null;
  const { fit: fits, data } = wear.line;
  const fit = fits.fits.find(({ family, sample }) => family === "lognormal" && sample === "all");
  return fit === undefined ? null : { fit, data };
}

/** In words that need no statistics. */
const foundOf = ({ theta }: PooledSpread): string => {
  const spread = Math.abs(theta[4]!);
  return `standard deviation of log rates ${spread.toFixed(2)}, so two thirds of rates are within ${Math.exp(spread).toFixed(2)} times the median either way`;
};

function lineOf(
  data: DecisionData,
  fit: RateFit,
  lenders: readonly SpreadLender[],
  confidence: number,
  edge: RegionEdge,
): WearLine {
  const { components, readings } = data.sums;
  const tail = {
    fit,
    rates: componentRates(data, fit.parameters),
    mixture: null,
    unseenShare: 1 - power(0.05, 1 / components),
  };
  const decision = {
    kind: "fitted" as const,
    decided: "lognormal" as const,
    fits: [fit],
    notFitted: [],
    noFitFromNew: "too few components",
  };
  const why = "taken as straight: too few components to tell";
  const result = wearLine(
    {
      kind: "fits",
      curvature: { kind: "too-few", components, readings, why },
      clocks: [{ exponent: 1, fit: decision, data, tails: [tail] }],
      established: null,
    },
    data.replaceAtMm,
    confidence,
    edge,
  );
  if (result.kind === "none") throw new Error(`a borrowed fit gave no line: ${result.why}`);
  const others = lenders.reduce((sum, lender) => sum + lender.fit.components, 0);
  return {
    ...result.line,
    standsOn: `mean rate from ${readings} readings of ${components} components, spread and scatter from ${others} components of ${lenders.length} other groups`,
  };
}
