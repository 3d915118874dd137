/** The likelihood of one life of a table, for what each row or aircraft says by itself. */
import type { LifeTable } from "../records/life-table.ts";
import type { WeibullLikelihood } from "./likelihood-terms.ts";

/** The terms of a single life of a row. */
export function oneLife(table: LifeTable, row: number, centre: number): WeibullLikelihood {
  const [entry, low, high] = [table.entryHours[row]!, table.lowerHours[row]!, table.upperHours[row]!];
  const logOf = (hours: number) => Math.log(hours) - centre;
  const exact = low === high;
  const interval = !exact && high < Number.POSITIVE_INFINITY;
  // Nothing was seen to be survived since it entered.
  const seen = entry !== low;
  const late = seen && entry > 0 ? [logOf(entry)] : [];
  const survived = seen && !interval ? [logOf(low)] : [];
  return {
    centre,
    lives: 1,
    exact: exact ? 1 : 0,
    intervals: interval ? 1 : 0,
    oneExactTime: exact,
    lateEntry: entry > 0,
    logSpread: 0,
    sumLogExact: exact ? logOf(low) : 0,
    hazardLog: Float64Array.of(...late, ...survived),
    hazardWeight: Float64Array.of(...late.map(() => 1), ...survived.map(() => -1)),
    intervalLowLog: interval ? Float64Array.of(logOf(low)) : NONE,
    intervalHighLog: interval ? Float64Array.of(logOf(high)) : NONE,
    intervalWeight: interval ? ONE : NONE,
    intervalSurvived: interval ? (seen ? ONE : ZERO) : NONE,
  };
}

const NONE = new Float64Array(0);
const ZERO = Float64Array.of(0);
const ONE = Float64Array.of(1);
