/** What components are removed for, the most frequent first. */

/** One removal for cause, as far as this ranking sees it. */
export interface CauseOfRemoval {
  readonly cause: string;
  /** The shop found no fault. */
  readonly noFaultFound: boolean;
  /** The shop confirmed it; false with noFaultFound false: no finding is recorded. */
  readonly confirmed: boolean;
}

export interface RankedCause {
  readonly cause: string;
  readonly removals: number;
  readonly confirmed: number;
  readonly noFaultFound: number;
  /** Removals without a finding. */
  readonly noFinding: number;
  /** Share of all removals, and with all causes ranked before it. */
  readonly share: number;
  readonly cumulativeShare: number;
}

/** Causes by number of removals; equal numbers in the order of their names (by code unit, the same everywhere). */
export function rankCauses(removals: readonly CauseOfRemoval[]): RankedCause[] {
  const byCause = new Map<string, CauseOfRemoval[]>();
  for (const removal of removals) {
    const group = byCause.get(removal.cause);
    if (group === undefined) byCause.set(removal.cause, [removal]);
    else group.push(removal);
  }
  const counted = [...byCause].map(([cause, group]) => {
    const confirmed = group.filter((one) => one.confirmed).length;
    const noFaultFound = group.filter((one) => one.noFaultFound).length;
    return {
      cause,
      removals: group.length,
      confirmed,
      noFaultFound,
      noFinding: group.length - confirmed - noFaultFound,
    };
  });
  counted.sort((a, b) => b.removals - a.removals || (a.cause < b.cause ? -1 : 1));
  let before = 0;
  return counted.map((one) => {
    before += one.removals;
    return { ...one, share: one.removals / removals.length, cumulativeShare: before / removals.length };
  });
}
