/**
 * A Weibull shape lent to a group too thin for one of its own: the one shape that other groups of the part share, each
 * with its own scale, and its likelihood-ratio interval widened for aircraft that are alike. Two tests must not reject it:
 * that the lenders have one shape (against a shape each), and that the thin group has theirs (against any shape of the
 * usual range). The smaller p counts. Aircraft that are alike make both reject more often, which errs to the safe side.
 * Source: Lawless (2003), Statistical Models and Methods for Lifetime Data, 2nd ed., section 5.4, on tests of equal Weibull
 * shapes (section from memory). Checked: tests/life/borrowed-shape.test.ts against R survreg with a stratum a group.
 */
import { standardNormalQuantile, studentQuantile } from "../math/distributions.ts";
import { findRoot } from "../math/find-root.ts";
import type { LifeTable } from "../records/life-table.ts";
import { type ChiSquaredTest, chiSquaredTest } from "./chi-squared-test.ts";
import { rowLikelihood } from "./cluster.ts";
import { givenShapeScale, overShapes, type ShapeRange } from "./given-shape.ts";
import { likeliestShape } from "./likeliest-shape.ts";
import { twoSidedDrop } from "./likelihood-drop.ts";
import { type WeibullLikelihood, weibullLikelihood } from "./likelihood-terms.ts";
import { topOnLine } from "./top-on-line.ts";
import type { FittedWeibull, WeibullParameters } from "./weibull-fit.ts";
import { likelihoodAt, logLikelihoodAt } from "./weibull-likelihood.ts";

/** A group with a free fit; aircraft have one number in all lenders' tables. */
export interface ShapeLender {
  readonly table: LifeTable;
  readonly fit: FittedWeibull;
}

/** Fewest groups with a fit of their own for one shape to be more than a neighbour's. */
export const FEWEST_LENDERS = 2;

export interface BorrowedShape {
  readonly kind: "shape";
  readonly shape: number;
  /** Lenders' shapes equal, against a shape for each. */
  readonly lendersTest: ChiSquaredTest;
  /** The thin group's shape theirs, against any of the usual range. */
  readonly ownTest: ChiSquaredTest;
  /** The smaller of the two. */
  readonly p: number;
  /** Two-sided bounds of the shared shape at a confidence; null where it has none. */
  readonly rangeAt: (confidence: number) => ShapeRange | null;
}

export type BorrowedShapeOutcome = BorrowedShape | { readonly kind: "none"; readonly why: string };

/** The shape that the lenders share, and whether the thin group's lives speak against it. */
export function borrowedShape(own: LifeTable, lenders: readonly ShapeLender[]): BorrowedShapeOutcome {
  if (lenders.length < FEWEST_LENDERS) {
    const why = `${FEWEST_LENDERS} other groups of the part with a fit of their own are needed, there ${lenders.length === 1 ? "is 1" : `are ${lenders.length}`}`;
    return { kind: "none", why };
  }
  const members = lenders.map(({ fit }) => ({ data: fit.likelihood, alpha: fit.alpha }));
  const shared = bestShape(members, lenders);
  if (shared === null) return { kind: "none", why: "the search for the groups' common shape did not end" };
  const apart = lenders.reduce((sum, { fit }) => sum + fit.logLikelihood, 0);
  const lendersTest = chiSquaredTest(2 * (apart - shared.value), lenders.length - 1);
  const ownTest = chiSquaredTest(2 * gainOfOwnShape(own, members, lenders, shared), 1);
  let alike: ReturnType<typeof clusterRatio> | null = null;
  return {
    kind: "shape",
    shape: shared.shape,
    lendersTest,
    ownTest,
    p: Math.min(lendersTest.p, ownTest.p),
    rangeAt: (confidence) => {
      alike ??= clusterRatio(lenders, shared);
      const { ratio, clusters } = alike;
      if (!Number.isFinite(ratio)) return null;
      const t = studentQuantile((1 + confidence) / 2, Math.max(1, clusters - 1));
      const few = ratio === 1 ? 1 : (t / standardNormalQuantile((1 + confidence) / 2)) ** 2;
      return rangeWithin(members, shared, twoSidedDrop(confidence) * ratio * few);
    },
  };
}

/** A likelihood and where its search for the best scale begins. */
interface Member {
  readonly data: WeibullLikelihood;
  readonly alpha: number;
}

interface SharedShape {
  readonly shape: number;
  readonly value: number;
  /** Best log hazard at each member's centre. */
  readonly alphas: readonly number[];
}

/** Members' log-likelihood at one shape, each at its own best scale, with its slope by the log of the shape. */
function atShape(members: readonly Member[], shape: number): SharedShape & { readonly slope: number } {
  let value = 0;
  let slope = 0;
  const alphas = members.map(({ data, alpha }) => {
    const top = topOnLine(data, { alpha, beta: shape }, { alpha: 1, beta: 0 });
    value += top.at.value;
    slope += shape * top.at.gradBeta;
    return top.alpha;
  });
  return { shape, value, slope, alphas };
}

/** The likeliest common shape lies between the least and the greatest of the members' own. */
function bestShape(members: readonly Member[], lenders: readonly ShapeLender[]): SharedShape | null {
  const own = lenders.map(({ fit }) => Math.log(fit.shape));
  const low = Math.min(...own) - 0.01;
  const high = Math.max(...own) + 0.01;
  const root = findRoot((logShape) => atShape(members, Math.exp(logShape)).slope, low, high, 1e-10);
  return root.kind === "found" ? atShape(members, Math.exp(root.at)) : null;
}

/** Beyond this factor from the estimate a bound of the shape counts as not there. */
const FARTHEST_LOG = Math.log(1000);

function rangeWithin(members: readonly Member[], shared: SharedShape, drop: number): ShapeRange | null {
  const fall = (logShape: number) => 2 * (shared.value - atShape(members, Math.exp(logShape)).value) - drop;
  const centre = Math.log(shared.shape);
  const side = (sign: 1 | -1): number | null => {
    let reach = 0.1;
    while (reach < FARTHEST_LOG && fall(centre + sign * reach) < 0) reach *= 2;
    if (reach >= FARTHEST_LOG) return null;
    const root = findRoot(fall, centre, centre + sign * reach, 1e-9);
    return root.kind === "found" ? Math.exp(root.at) : null;
  };
  const from = side(-1);
  const to = side(1);
  return from === null || to === null ? null : { from, to };
}

/** How much likelier everything is with a shape of its own for the thin group, of the usual range or the shared one. */
function gainOfOwnShape(
  own: LifeTable,
  members: readonly Member[],
  lenders: readonly ShapeLender[],
  shared: SharedShape,
): number {
  const data = weibullLikelihood(own);
  // Without an event every shape fits as well: it is only a matter of a scale long enough.
  if (data.exact + data.intervals === 0) return 0;
  const valueAt = ({ shape, scaleHours }: WeibullParameters) =>
    logLikelihoodAt(data, shape * (data.centre - Math.log(scaleHours)), shape);
  const start = givenShapeScale(own, shared.shape, 0.5).estimateHours;
  const free = likeliestShape(own);
  if (start === null || free === null) return 0;
  const alpha = shared.shape * (data.centre - Math.log(start));
  const all = [...members, { data, alpha }];
  const together = mostAlong(all, [...lenders.map(({ fit }) => fit.shape), free.shape]);
  const atTheirs = shared.value + atShape([{ data, alpha }], shared.shape).value;
  return Math.max(valueAt(free) + shared.value, atTheirs) - Math.max(together, atTheirs);
}

/** Greatest log-likelihood at one shape between the least and the greatest of some. */
function mostAlong(members: readonly Member[], shapes: readonly number[]): number {
  const low = Math.log(Math.min(...shapes)) - 0.01;
  const high = Math.log(Math.max(...shapes)) + 0.01;
  const slope = (logShape: number) => atShape(members, Math.exp(logShape)).slope;
  const root = findRoot(slope, low, high, 1e-8);
  if (root.kind === "found") return atShape(members, Math.exp(root.at)).value;
  return atShape(members, Math.exp(root.atLow > 0 ? high : low)).value;
}

/** Variance of the shared shape with aircraft as the sample over that of independent lives: 1 where none has two lives. */
function clusterRatio(
  lenders: readonly ShapeLender[],
  { shape, alphas }: SharedShape,
): { ratio: number; clusters: number } {
  const byCluster = new Map<number, number>();
  let [information, squares, alone, lives] = [0, 0, 0, 0];
  for (const [g, { table, fit }] of lenders.entries()) {
    const at = likelihoodAt(fit.likelihood, alphas[g]!, shape);
    // The scale is fitted too: only what of the shape's score it can't take up counts.
    const share = at.hessAlphaBeta / at.hessAlphaAlpha;
    information -= at.hessBetaBeta - share * at.hessAlphaBeta;
    const moved = { ...fit, alpha: alphas[g]!, beta: shape };
    for (let row = 0; row < table.rows; row++) {
      const one = rowLikelihood(table, row, moved);
      const count = table.count[row]!;
      const score = one.gradBeta - share * one.gradAlpha;
      const cluster = table.cluster[row]!;
      lives += count;
      if (cluster >= 0) byCluster.set(cluster, (byCluster.get(cluster) ?? 0) + count * score);
      else {
        squares += count * score * score;
        alone += count;
      }
    }
  }
  const clusters = byCluster.size + alone;
  if (clusters < 2 || !(information > 0)) return { ratio: Number.POSITIVE_INFINITY, clusters };
  if (clusters === lives) return { ratio: 1, clusters };
  for (const score of byCluster.values()) squares += score * score;
  const ratio = ((squares / information) * clusters) / (clusters - 1);
  return { ratio: Math.max(1, ratio), clusters };
}

/** A risk with the borrowed shape: bounds the worst over its interval, the estimate at the shape itself. */
export interface BorrowedRisk {
  readonly estimate: number;
  readonly lower: number | null;
  readonly upper: number | null;
}

/**
 * Risks of the thin group: its own lives give the scale, the lenders the shapes. A risk must not fall where the scale falls.
 *
 * @param range  the shared shape's interval
 */
export function risksWithShape(
  own: LifeTable,
  shape: number,
  range: ShapeRange,
  confidence: number,
): (risk: (parameters: WeibullParameters) => number) => BorrowedRisk {
  const { bounded } = overShapes(own, confidence, range);
  const { events, estimateHours } = givenShapeScale(own, shape, 0.5);
  // Without an event the best estimate is that nothing happens.
  const scaleHours = (events === 0 ? null : estimateHours) ?? Number.POSITIVE_INFINITY;
  return (risk) => {
    const { lower, upper } = bounded(risk);
    return { estimate: risk({ shape, scaleHours }), lower, upper };
  };
}
