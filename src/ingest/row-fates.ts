/** What becomes of a row that was remarked on: used as recorded, or left out of the lives by the rules that make them. */
import { countsAirframeHours } from "../fleet/clock.ts";
import type { ExportKind, Fleet } from "../fleet/fleet.ts";
import type { ReadExports, RowColumns } from "../records/exports.ts";
import { indexFittings } from "../records/fittings.ts";
import { historyReader } from "../records/history.ts";
import { fittedAt } from "../records/lives.ts";
import { splitLives } from "../records/split-lives.ts";

export const USED = "flagged; the row is used as recorded";

/**
 * Says what becomes of a row. Only components that are asked about are cut into lives; rows after the as-of day count
 * here too, so that a month reported for an earlier day may use a row that later ones show to be wrong.
 */
export function rowFates(exports: ReadExports, fleet: Fleet): (kind: ExportKind, row: number) => string {
  const leftOutOf = memoised((component) => leftOut(component));
  const reader = once(() => {
    const airframe = countsAirframeHours(fleet);
    const asOf = exports.latestDay ?? 0;
    const fittings = indexFittings(exports, asOf, airframe);
    return { fittings, historyOf: historyReader(exports, asOf, fittings, airframe) };
  });
  function leftOut(component: number): ReadonlyMap<string, string> {
    const { fittings, historyOf } = reader();
    const history = historyOf(component);
    if (history === null) return new Map();
    const { replaceAtMm } = fleet.parts[history.part]!;
    const split = splitLives(history, replaceAtMm, fittedAt(fittings, component));
    return new Map(split.leftOut.map(({ row, reason }) => [`${row.kind} ${row.file} ${row.line}`, reason]));
  }
  return (kind, row) => {
    if (kind !== "wear" && kind !== "removals") return USED;
    const rows: RowColumns & { readonly component: Int32Array } = exports[kind]!;
    const reason = leftOutOf(rows.component[row]!).get(`${kind} ${rows.file[row]} ${rows.line[row]}`);
    return reason === undefined ? USED : `flagged; left out of the lives, since ${reason}`;
  };
}

function memoised<T>(make: (key: number) => T): (key: number) => T {
  const made = new Map<number, T>();
  return (key) => {
    const known = made.get(key);
    if (known !== undefined) return known;
    const value = make(key);
    made.set(key, value);
    return value;
  };
}

function once<T>(make: () => T): () => T {
  const at = memoised(make);
  return () => at(0);
}
