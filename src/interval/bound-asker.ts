/**
 * Asks whether a risk's upper bound is over a level, and computes the bound only where nothing known settles it: a bound
 * is never below its estimate, and grows with the confidence and (where the known ones do) with the interval.
 */

/** A risk by interval and confidence. */
export interface AskedRisk {
  readonly confidence: number;
  /** Intervals that may be asked about, ascending, with estimates; upper bounds at `confidence` where already known. */
  readonly known: readonly {
    readonly intervalH: number;
    readonly estimate: number | null;
    readonly upper: number | null;
  }[];
  /** The bound itself; null where it has none. Dear. */
  readonly upperAt: (confidence: number, intervalH: number) => number | null;
}

interface Fact {
  readonly confidence: number;
  readonly intervalH: number;
  readonly upper: number;
}

/** A number on the same side of `level` as the upper bound at this confidence and interval; null: no bound. */
export type BoundAsker = (confidence: number, intervalH: number, level: number) => number | null;

export function boundAsker({ confidence, known, upperAt }: AskedRisk): BoundAsker {
  const facts: Fact[] = known.flatMap(({ intervalH, upper }) =>
    upper === null ? [] : [{ confidence, intervalH, upper }],
  );
  const rises = facts.every(({ upper }, k) => k === 0 || upper >= facts[k - 1]!.upper);
  const exact = (at: number, intervalH: number): number | null => {
    const upper = upperAt(at, intervalH);
    if (upper !== null) facts.push({ confidence: at, intervalH, upper });
    return upper;
  };
  const settled = (at: number, intervalH: number, level: number): number | null => {
    const estimate = known.find((one) => one.intervalH === intervalH)?.estimate ?? null;
    if (estimate !== null && estimate > level) return estimate;
    for (const fact of facts) {
      const worse =
        fact.confidence >= at && (fact.intervalH === intervalH || (rises && fact.intervalH > intervalH));
      const milder =
        fact.confidence <= at && (fact.intervalH === intervalH || (rises && fact.intervalH < intervalH));
      if ((worse && fact.upper <= level) || (milder && fact.upper > level)) return fact.upper;
    }
    return null;
  };
  const ask = (at: number, intervalH: number, level: number): number | null =>
    settled(at, intervalH, level) ?? exact(at, intervalH);
  return (at, intervalH, level) => {
    const answer = settled(at, intervalH, level);
    if (answer !== null || !rises) return answer ?? exact(at, intervalH);
    // Halving from the longest interval down settles all of them with few bounds.
    let low = known.findIndex((one) => one.intervalH === intervalH);
    let high = known.length;
    while (high - low > 1) {
      const middle = (low + high) >> 1;
      const upper = ask(at, known[middle]!.intervalH, level);
      if (upper !== null && upper <= level) low = middle;
      else high = middle;
    }
    return ask(at, intervalH, level);
  };
}
