import { describe, expect, it } from "vitest";
import type { GroupResult, Month, Recommendation } from "../../../src/interval/month-result.ts";
import { drawChart } from "../../../src/report/charts/render.ts";
import { makeMonth } from "../../support/make-month.ts";
import { everyChart } from "./every-chart.ts";

const whole = makeMonth();
const [group] = whole.groups as [GroupResult];
const [recommendation] = whole.recommendations as [Recommendation];

const draws = async (overrides: Partial<Month>) => {
  const svgs = [];
  for (const chart of everyChart(
    makeMonth({ trends: [], gapQuarters: [], groups: [], recommendations: [], ...overrides }),
  ))
    svgs.push(await drawChart(chart.spec, { prefix: chart.id, alt: chart.alt }));
  for (const svg of svgs) expect(svg).not.toMatch(/NaN|undefined|Infinity/);
  return svgs.length;
};

describe("charts of a month with little in it", () => {
  it("draws a group without a life, a reading or a fit", async () => {
    const nothing: GroupResult = {
      ...group,
      lives: [],
      life: { ...group.life, weibull: null, survival: [], curve: [], marks: [], why: "no lives" },
      wear: { ...group.wear, fit: null, band: [], readings: 0, why: "no readings" },
      presentIntervalsH: [],
    };
    expect(await draws({ groups: [nothing] })).toBe(4);
  });

  it("draws a rate of nought or less without a ratio", async () => {
    const flat = { estimate: -0.001, lower: -0.01, upper: 0.008 };
    const fit = { ...group.wear.fit!, ratePer1000H: flat };
    expect(await draws({ groups: [{ ...group, wear: { ...group.wear, fit } }] })).toBe(4);
  });

  it("draws a grid of one interval, risks of nought, and a risk without an upper bound", async () => {
    const none = { estimate: 0, lower: 0, upper: null };
    const risk = {
      intervalH: 600,
      overLimitPerInspection: { life: none, wear: null },
      unsafeBeforeSeen: none,
    };
    expect(await draws({ recommendations: [{ ...recommendation, risks: [risk] }] })).toBe(2);
  });

  it("draws months that were never flown, and gaps of nought without a tolerance", async () => {
    const idle = whole.trends[0]!.months.map((month) => ({
      ...month,
      flightHours: 0,
      per1000H: null,
      alertCount: null,
    }));
    const gap = {
      ...whole.gapQuarters[0]!,
      standard: "unknown",
      medianMm: 0,
      lowMm: 0,
      highMm: 0,
      outOfTolerance: null,
    };
    const trend = { ...whole.trends[0]!, months: idle, perAircraft: { aircraft: 0, leftOut: 0, points: [] } };
    expect(await draws({ trends: [trend], gapQuarters: [gap] })).toBe(2);
  });
});
