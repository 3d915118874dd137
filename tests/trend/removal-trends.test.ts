import { describe, expect, it } from "vitest";
import type { FlyingRows, GapRows, TextColumn } from "../../src/records/exports.ts";
import { GAP_STATE } from "../../src/records/exports.ts";
import { gapQuarters } from "../../src/trend/gap-quarters.ts";
import { removalTrends } from "../../src/trend/removal-trends.ts";
import { dayOfText, makeExports } from "../support/make-exports.ts";

const text = (words: readonly string[]): TextColumn => {
  const list = [...new Set(words.filter((word) => word !== ""))];
  return { codes: Int16Array.from(words, (word) => list.indexOf(word)), words: list };
};

/** Two aircraft: A1 flies 100 h a month in the valley, A2 50 h a month at the salt pans, for months 2023-01 to 2024-02. */
const MONTHS = [
  "2023-01",
  "2023-02",
  "2023-03",
  "2023-04",
  "2023-05",
  "2023-06",
  "2023-07",
  "2023-08",
  "2023-09",
  "2023-10",
  "2023-11",
  "2023-12",
  "2024-01",
  "2024-02",
];
const flying: FlyingRows = {
  rows: 2 * MONTHS.length,
  file: new Uint16Array(2 * MONTHS.length),
  line: new Int32Array(2 * MONTHS.length),
  unassigned: new Uint8Array(2 * MONTHS.length),
  month: Int32Array.from([...MONTHS, ...MONTHS], (month) => dayOfText(`${month}-01`)),
  aircraft: text([...MONTHS.map(() => "A1"), ...MONTHS.map(() => "A2")]),
  environment: text([...MONTHS.map(() => "temperate"), ...MONTHS.map(() => "sandy")]),
  hours: Float64Array.from([...MONTHS.map(() => 100), ...MONTHS.map(() => 50)]),
};
const removal = (serial: string, on: string, mode: string, aircraft: string, finding?: "no fault found") => ({
  serial,
  on,
  hours: 100,
  mode,
  aircraft,
  ...(finding === undefined ? {} : { finding }),
});
const exports = {
  ...makeExports({
    removals: [
      removal("S1", "2023-05-10", "wear", "A1"),
      removal("S2", "2023-05-11", "not a failure", "A1"),
      removal("S3", "2024-01-05", "seal", "A1", "no fault found"),
      removal("S4", "2024-01-06", "wear", "A2"),
      removal("S5", "2024-02-20", "wear", "A1"),
      removal("S6", "2024-03-01", "wear", "A1"),
    ],
  }),
  flying,
};
const trends = removalTrends(exports, dayOfText("2024-02-29"), { windowMonths: 12, confidence: 0.95 });
const of = (environment: string) => trends.find((trend) => trend.environment === environment)!;

describe("removalTrends(exports, asOf, options)", () => {
  it("counts removals where the aircraft flew that month, up to the as-of day", () => {
    const temperate = of("temperate");
    expect(temperate.months.map(({ month }) => month)).toEqual(MONTHS);
    expect(temperate.months.find(({ month }) => month === "2023-05")).toEqual({
      month: "2023-05",
      flightHours: 100,
      removals: 2,
      unscheduled: 1,
    });
    expect(of("sandy").months.reduce((sum, { removals }) => sum + removals, 0)).toBe(1);
  });

  it("gives the unscheduled rate with Garwood's limits (1 in 100 h: 0.253 to 55.7 per 1000 h)", () => {
    const rate = of("temperate").rates[4]!;
    expect(rate).toMatchObject({ kind: "rate", per1000H: 10 });
    if (rate.kind === "rate")
      expect([rate.lowerPer1000H, rate.upperPer1000H]).toEqual([
        expect.closeTo(0.25318, 4),
        expect.closeTo(55.716, 2),
      ]);
  });

  it("ranks causes with the unconfirmed apart, and leaves out removals that are no failures", () => {
    expect(
      of("temperate").causes.map(({ cause, removals, noFaultFound }) => [cause, removals, noFaultFound]),
    ).toEqual([
      ["wear", 2, 0],
      ["seal", 1, 1],
    ]);
  });

  it("gives mean hours between removals, all and unscheduled", () => {
    const { all, unscheduled } = of("temperate").means;
    expect(all).toMatchObject({ removals: 4, meanHours: 350 });
    expect(unscheduled).toMatchObject({ removals: 3, meanHours: 1400 / 3 });
  });

  it("says nothing without hours flown", () => {
    expect(
      removalTrends({ ...exports, flying: null }, dayOfText("2024-02-29"), {
        windowMonths: 12,
        confidence: 0.95,
      }),
    ).toEqual([]);
  });

  it("leaves out a month that is not over", () => {
    const inMonth = removalTrends(exports, dayOfText("2024-02-15"), { windowMonths: 12, confidence: 0.95 });
    expect(inMonth[0]!.months.at(-1)!.month).toBe("2024-01");
  });
});

describe("gapQuarters(exports, tolerances, asOf)", () => {
  const gapsMm = [0.2, 0.4, 0.6, 0.8, 1.2, 0.3];
  const gaps: GapRows = {
    rows: 6,
    file: new Uint16Array(6),
    line: new Int32Array(6),
    unassigned: new Uint8Array(6),
    component: new Int32Array(6).fill(-1),
    day: Int32Array.from(gapsMm, (_, i) => dayOfText(i < 5 ? "2023-05-10" : "2023-06-30")),
    hours: new Float64Array(6).fill(Number.NaN),
    gapMm: Float64Array.from(gapsMm),
    state: Uint8Array.from(gapsMm, (_, i) => (i < 5 ? GAP_STATE.found : GAP_STATE.left)),
    aircraft: text(gapsMm.map(() => "A2")),
    position: text(gapsMm.map(() => "A")),
    standard: text(gapsMm.map(() => "shielded")),
  };

  it("summarises each quarter as found and as left against the tolerance (R-7 quantiles, by hand)", () => {
    const quarters = gapQuarters(
      { ...exports, gaps },
      [{ standard: "shielded", lowMm: 0, highMm: 1 }],
      dayOfText("2024-02-29"),
    );
    expect(
      quarters.map(({ quarter, state, readings, medianMm, outOfTolerance }) => [
        quarter,
        state,
        readings,
        medianMm,
        outOfTolerance,
      ]),
    ).toEqual([
      ["2023-Q2", "found", 5, 0.6, 0.2],
      ["2023-Q2", "left", 1, 0.3, 0],
    ]);
    expect(quarters[0]).toMatchObject({ environment: "sandy", standard: "shielded" });
  });

  it("gives no share where the fleet file gives no tolerance", () => {
    const [first] = gapQuarters({ ...exports, gaps }, [], dayOfText("2024-02-29"));
    expect(first!.outOfTolerance).toBeNull();
  });
});
