/** Components whose standard changed while they went on: did their own rate change with it? */
import type { Life } from "../records/life.ts";
import { aircraftOfLives, type WholeLife, wholeLives } from "../records/whole-lives.ts";
import { type RateChange, rateChange } from "../wear/rate-change.ts";

export interface StandardChange {
  readonly from: string;
  readonly to: string;
  readonly change: RateChange;
}

/** @param lives of one part; each life is used for its first change only */
export function standardChanges(lives: readonly Life[], confidence: number): StandardChange[] {
  const byChange = new Map<
    string,
    { from: string; to: string; lives: { life: WholeLife; hours: number }[] }
  >();
  for (const life of wholeLives(lives)) {
    const from = life.pieces[0].group.standard;
    const changed = life.pieces.find(({ group }) => group.standard !== from);
    if (changed === undefined) continue;
    const to = changed.group.standard;
    const key = JSON.stringify([from, to]);
    const known = byChange.get(key) ?? { from, to, lives: [] };
    known.lives.push({ life, hours: changed.entryHours });
    byChange.set(key, known);
  }
  return [...byChange]
    .sort(([a], [b]) => (a < b ? -1 : 1))
    .map(([, { from, to, lives: own }]) => ({ from, to, change: changeOf(own, confidence) }));
}

function changeOf(lives: readonly { life: WholeLife; hours: number }[], confidence: number): RateChange {
  const rows = lives.flatMap(({ life, hours: at }, component) =>
    life.pieces.flatMap(({ readingHours, readingWearMm }) =>
      readingHours.map((hours, k) => ({
        component,
        hours,
        wearMm: readingWearMm[k]!,
        after: Math.max(0, hours - at),
      })),
    ),
  );
  const table = {
    rows: rows.length,
    components: lives.length,
    component: Int32Array.from(rows, ({ component }) => component),
    hours: Float64Array.from(rows, ({ hours }) => hours),
    wearMm: Float64Array.from(rows, ({ wearMm }) => wearMm),
  };
  const after = Float64Array.from(rows, (row) => row.after);
  return rateChange(table, after, aircraftOfLives(lives.map(({ life }) => life)), confidence);
}
