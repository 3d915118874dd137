import type { Life } from "../../src/records/life.ts";

/** A life with everything at a plain value; `over` replaces members. */
export function makeLife(over: Partial<Life> = {}): Life {
  const readingHours = over.readingHours ?? [];
  const days = readingHours.map((hours) => Math.round(hours / 3));
  return {
    component: 0,
    group: { part: "grip bearing", environment: "sandy", standard: "plain" },
    life: 1,
    piece: 1,
    entryHours: 0,
    lowerHours: readingHours.at(-1) ?? 0,
    upperHours: Number.POSITIVE_INFINITY,
    end: "still fitted",
    lateEntry: false,
    observedFromHours: 0,
    lastHours: readingHours.at(-1) ?? 0,
    environmentFrom: "flying",
    aircraft: "A1",
    position: "A",
    firstDay: days[0] ?? 0,
    lastDay: days.at(-1) ?? 0,
    eventDay: null,
    removedDay: null,
    removal: null,
    functionalFailureHours: null,
    readingHours,
    readingWearMm: readingHours.map(() => 0.1),
    readingDays: days,
    lookHours: readingHours,
    lookDays: days,
    rows: readingHours.map((_, row) => ({ kind: "wear", file: 0, line: row + 2 })),
    ...over,
  };
}
