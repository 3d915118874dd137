import { describe, expect, it } from "vitest";
import { type ConvertedTable, ROW } from "../../src/ingest/converted-table.ts";
import { markRepeats } from "../../src/ingest/repeats.ts";
import { LOOK, NO_DAY } from "../../src/records/exports.ts";

/** A small generator (Lehmer, 1951): any numbers do, the same each time. */
function numbersFrom(seed: number): (below: number) => number {
  let state = seed;
  return (below) => {
    state = (state * 48_271) % 2_147_483_647;
    return state % below;
  };
}

/** Looks at a few components on a few days, so that many are repeats, some with other hours or readings. */
function looks(seed: number, rows: number): ConvertedTable {
  const next = numbersFrom(seed);
  const ints = (below: number, least = 0) => Int32Array.from({ length: rows }, () => least + next(below));
  return {
    kind: "wear",
    rows,
    state: Uint8Array.from({ length: rows }, () => (next(10) === 0 ? ROW.rejected : ROW.accepted)),
    file: new Uint16Array(rows),
    line: Int32Array.from({ length: rows }, (_, row) => row + 2),
    unassigned: new Uint8Array(rows),
    columns: {
      ...{ component: ints(6), day: ints(8), aircraft: ints(2, -1), position: ints(2), hours: ints(2) },
      ...{ wearMm: ints(2), look: ints(2) },
    },
    words: {},
    exported: new Int32Array(rows).fill(NO_DAY),
  };
}

describe("markRepeats", () => {
  it("leaves one row at most of each key, and every row whose key is its own, in whatever order they come", () => {
    for (let seed = 1; seed <= 200; seed++) {
      const table = looks(seed, 4 + (seed % 30));
      const before = [...table.state];
      markRepeats(
        table,
        () => "wear.csv",
        () => {},
      );
      const { component, day, aircraft, position } = table.columns;
      const byKey = new Map<string, number[]>();
      for (let row = 0; row < table.rows; row++) {
        if (before[row] !== ROW.accepted) {
          expect(table.state[row]).toBe(before[row]);
          continue;
        }
        const key = [component, day, aircraft, position].map((column) => column![row]).join(" ");
        byKey.set(key, [...(byKey.get(key) ?? []), row]);
      }
      for (const rows of byKey.values()) {
        const kept = rows.filter((row) => table.state[row] === ROW.accepted).length;
        if (rows.length === 1) expect(kept).toBe(1);
        else expect(kept).toBeLessThan(2);
      }
    }
  });

  it("lets the largest of looks count that differ in their readings alone, and refuses all that differ otherwise", () => {
    const conflict = (hours: number, look: number = LOOK.number): ConvertedTable => ({
      ...looks(1, 3),
      state: new Uint8Array(3),
      columns: {
        ...{ component: new Int32Array(3), day: new Int32Array(3), aircraft: new Int32Array(3) },
        ...{ position: new Int32Array(3), hours: Float64Array.of(300, 300, hours) },
        ...{ wearMm: Float64Array.of(0.85, 0.87, 0.86), look: Uint8Array.of(LOOK.number, LOOK.number, look) },
      },
    });
    const statesOf = (table: ConvertedTable) => {
      const hints: (string | null)[] = [];
      markRepeats(
        table,
        () => "wear.csv",
        ({ hint }) => hints.push(hint),
      );
      return { states: [...table.state], hint: hints[0] };
    };
    const { states, hint } = statesOf(conflict(300));
    expect(states).toEqual([ROW.rejected, ROW.accepted, ROW.rejected]);
    expect(hint).toMatch(/until then the largest reading counts \(wear\.csv:3\)$/);
    const refused = [ROW.rejected, ROW.rejected, ROW.rejected];
    expect(statesOf(conflict(301)).states).toEqual(refused);
    expect(statesOf(conflict(300, LOOK.overLimit)).states).toEqual(refused);
  });
});
