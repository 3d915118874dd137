/**
 * Asks whether a risk's upper bound is over a level, and computes the bound only where nothing known settles it: a bound
 * is never below its estimate, and grows with the confidence and (where the known ones do) with the interval.
 */

/** A risk by interval and confidence. */
export interface AskedRisk {
  readonly confidence: number;
  /** Intervals that may be asked about, ascending, with what is known of each upper bound at `confidence`. */
  readonly known: readonly {
    readonly intervalH: number;
    readonly estimate: number | null;
    /** The bound lies between these, each null where not known; both are the bound itself where that is. */
    readonly atLeast: number | null;
    readonly atMost: number | null;
  }[];
  /** The bound itself, or where it is over the level any number between; null where it has none. Dear. */
  readonly upperAt: (confidence: number, intervalH: number, level: number) => number | null;
}

interface Fact {
  readonly confidence: number;
  readonly intervalH: number;
  readonly value: number;
}

/** A number on the same side of `level` as the upper bound at this confidence and interval; null: no bound. */
export type BoundAsker = (confidence: number, intervalH: number, level: number) => number | null;

export function boundAsker({ confidence, known, upperAt }: AskedRisk): BoundAsker {
  const factsOf = (pick: (one: AskedRisk["known"][number]) => number | null): Fact[] =>
    known.flatMap((one) => {
      const value = pick(one);
      return value === null ? [] : [{ confidence, intervalH: one.intervalH, value }];
    });
  const floors = factsOf(({ atLeast }) => atLeast);
  const ceilings = factsOf(({ atMost }) => atMost);
  const rises = [floors, ceilings].every((facts) =>
    facts.every(({ value }, k) => k === 0 || value >= facts[k - 1]!.value),
  );
  const computed = (at: number, intervalH: number, level: number): number | null => {
    const value = upperAt(at, intervalH, level);
    if (value === null) return null;
    floors.push({ confidence: at, intervalH, value });
    if (value <= level) ceilings.push({ confidence: at, intervalH, value });
    return value;
  };
  const settled = (at: number, intervalH: number, level: number): number | null => {
    const estimate = known.find((one) => one.intervalH === intervalH)?.estimate ?? null;
    if (estimate !== null && estimate > level) return estimate;
    const same = (fact: Fact) => fact.intervalH === intervalH;
    const over = floors.find(
      (fact) =>
        fact.value > level && fact.confidence <= at && (same(fact) || (rises && fact.intervalH < intervalH)),
    );
    if (over !== undefined) return over.value;
    const within = ceilings.find(
      (fact) =>
        fact.value <= level && fact.confidence >= at && (same(fact) || (rises && fact.intervalH > intervalH)),
    );
    return within?.value ?? null;
  };
  const ask = (at: number, intervalH: number, level: number): number | null =>
    settled(at, intervalH, level) ?? computed(at, intervalH, level);
  return (at, intervalH, level) => {
    const answer = settled(at, intervalH, level);
    if (answer !== null || !rises) return answer ?? computed(at, intervalH, level);
    // Halving between this interval and the longest settles all of them with few bounds.
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
