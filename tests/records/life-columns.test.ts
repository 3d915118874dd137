import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { ENVIRONMENT_SOURCES, LIFE_ENDS, type Life, ROW_KINDS } from "../../src/records/life.ts";
import { lifeColumns } from "../../src/records/life-columns.ts";
import { livesAt, livesFrom, placesOf, plainLife } from "../../src/records/life-view.ts";

const hours = fc.double({ min: 0, max: 1e5, noNaN: true });
const day = fc.integer({ min: -40_000, max: 60_000 });
const some = <T>(one: fc.Arbitrary<T>) => fc.array(one, { maxLength: 4 });
const reading = fc.tuple(hours, fc.double({ min: -1, max: 3, noNaN: true }), day);
const summed = fc.record({
  ...{ count: fc.nat(), meanHours: hours, meanWearMm: hours, hoursSquared: hours, hoursWear: hours },
  ...{ wearSquared: hours, lastHours: hours, lastDay: day, lastWearMm: hours, highestWearMm: hours },
  looksWithNumber: fc.nat(),
});

const life: fc.Arbitrary<Life> = fc
  .record({
    component: fc.nat(1e6),
    group: fc.record({
      part: fc.constantFrom("grip bearing", "link bearing"),
      environment: fc.string(),
      standard: fc.string(),
    }),
    ...{ life: fc.integer({ min: 1, max: 300 }), piece: fc.integer({ min: 1, max: 300 }) },
    ...{ entryHours: hours, lowerHours: hours, observedFromHours: hours, lastHours: hours },
    upperHours: fc.oneof(hours, fc.constant(Number.POSITIVE_INFINITY)),
    ...{ end: fc.constantFrom(...LIFE_ENDS), environmentFrom: fc.constantFrom(...ENVIRONMENT_SOURCES) },
    ...{ lateEntry: fc.boolean(), aircraft: fc.string(), position: fc.string() },
    ...{ firstDay: day, lastDay: day, eventDay: fc.option(day), removedDay: fc.option(day) },
    removal: fc.option(fc.record({ mode: fc.string(), inService: fc.boolean(), noFaultFound: fc.boolean() })),
    functionalFailureHours: fc.option(hours),
    readings: some(reading),
    looks: some(fc.tuple(hours, day)),
    rows: some(
      fc.record({ kind: fc.constantFrom(...ROW_KINDS), file: fc.nat(65_535), line: fc.nat(2_000_000_000) }),
    ),
    summed: fc.option(summed),
  })
  .map(({ readings, looks, summed, ...rest }) => ({
    ...rest,
    readingHours: readings.map(([at]) => at),
    readingWearMm: readings.map(([, wearMm]) => wearMm),
    readingDays: readings.map(([, , on]) => on),
    lookHours: looks.map(([at]) => at),
    lookDays: looks.map(([, on]) => on),
    ...(summed && { summed }),
  }));

describe("lifeColumns(lives), livesFrom(columns)", () => {
  it("gives back every life as it was, after a journey to another thread", () => {
    fc.assert(
      fc.property(fc.array(life, { maxLength: 5 }), (lives) => {
        const there = livesFrom(structuredClone(lifeColumns(lives)));
        expect(there.map(plainLife)).toEqual(lives);
      }),
      { numRuns: 100, seed: 1 },
    );
  });

  it("lies in shared memory, so that the journey copies no reading", () => {
    const [made] = fc.sample(life, { numRuns: 1, seed: 2 });
    for (const column of Object.values(lifeColumns([made!])))
      if (ArrayBuffer.isView(column)) expect(column.buffer).toBeInstanceOf(SharedArrayBuffer);
  });
});

describe("placesOf(lives), livesAt(places)", () => {
  const lives = fc.sample(life, { numRuns: 6, seed: 3 });
  const inColumns = livesFrom(lifeColumns(lives));

  it("finds some lives again in the columns that they lie in, in the order asked for", () => {
    const some = [inColumns[4]!, inColumns[1]!];
    const { columns, places } = placesOf(some);
    expect([...places]).toEqual([4, 1]);
    expect(columns.count).toBe(6);
    expect(livesAt(structuredClone({ columns, places })).map(plainLife)).toEqual([lives[4], lives[1]]);
  });

  it("makes columns where lives lie in none, or not in the same", () => {
    const others = livesFrom(lifeColumns(lives.slice(2)));
    for (const mixed of [[], lives, [inColumns[0]!, lives[1]!], [inColumns[0]!, others[3]!]]) {
      const { columns, places } = placesOf(mixed);
      expect(columns.count).toBe(mixed.length);
      expect(livesAt({ columns, places }).map(plainLife)).toEqual(mixed.map(plainLife));
    }
  });
});
