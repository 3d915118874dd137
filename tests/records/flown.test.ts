import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { ReadExports, TextColumn } from "../../src/records/exports.ts";
import { indexFlown } from "../../src/records/flown.ts";
import { addMonths, dayOf, monthNumber } from "../../src/units.ts";
import { makeExports } from "../support/make-exports.ts";

const JANUARY = dayOf(2024, 1, 1)!;
const flight = fc.record({
  aircraft: fc.constantFrom("A1", "A2", null),
  month: fc.integer({ min: 0, max: 3 }),
  environment: fc.constantFrom("sandy", "coastal", null),
  hours: fc.integer({ min: 0, max: 4 }),
});
type Flight = typeof flight extends fc.Arbitrary<infer T> ? T : never;

function column(words: readonly (string | null)[]): TextColumn {
  const known = [...new Set(words)].filter((word) => word !== null);
  return {
    words: known,
    codes: Int32Array.from(words, (word) => (word === null ? -1 : known.indexOf(word))),
  };
}

const exportsOf = (flights: readonly Flight[]): ReadExports => ({
  ...makeExports({}),
  flying: {
    rows: flights.length,
    file: new Uint16Array(flights.length),
    line: Int32Array.from(flights, (_, at) => at + 2),
    unassigned: new Uint8Array(flights.length),
    month: Int32Array.from(flights, ({ month }) => addMonths(JANUARY, month)),
    aircraft: column(flights.map(({ aircraft }) => aircraft)),
    environment: column(flights.map(({ environment }) => environment)),
    hours: Float64Array.from(flights, ({ hours }) => hours),
  },
});

/** By month, each environment's hours in the order in which they are met; the first with most. */
function plainly(flights: readonly Flight[], aircraft: string, from: number, to: number): string | null {
  const total = new Map<string, number>();
  for (let month = from; month <= to; month++)
    for (const one of flights)
      if (one.aircraft === aircraft && one.month === month) {
        const environment = one.environment ?? "unassigned";
        total.set(environment, (total.get(environment) ?? 0) + one.hours);
      }
  const most = Math.max(...total.values());
  return most > 0 ? [...total].find(([, hours]) => hours === most)![0] : null;
}

describe("indexFlown(exports)", () => {
  it("names where an aircraft flew most between two days, months taken whole", () => {
    const months = fc.tuple(fc.integer({ min: -1, max: 4 }), fc.integer({ min: 0, max: 2 }));
    fc.assert(
      fc.property(fc.array(flight, { maxLength: 12 }), months, (flights, [from, more]) => {
        const [first, last] = [addMonths(JANUARY, from) + 20, addMonths(JANUARY, from + more) + 5];
        fc.pre(monthNumber(first) <= monthNumber(last));
        const found = indexFlown(exportsOf(flights)).mainEnvironment("A1", first, last);
        expect(found).toBe(plainly(flights, "A1", from, from + more));
      }),
      { numRuns: 300, seed: 1 },
    );
  });

  it("knows nothing of an aircraft that never flew, nor without a flying export", () => {
    const one: Flight = { aircraft: "A1", month: 0, environment: "sandy", hours: 3 };
    expect(indexFlown(exportsOf([one])).mainEnvironment("A9", JANUARY, JANUARY)).toBeNull();
    expect(indexFlown(makeExports({})).known).toBe(false);
  });
});
