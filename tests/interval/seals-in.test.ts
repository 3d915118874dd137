import { describe, expect, it } from "vitest";
import type { RiskAtInterval } from "../../src/interval/month-result.ts";
import type { OwnRecommendation } from "../../src/interval/recommend.ts";
import { rateWithSealsIn, slower, withSealsIn } from "../../src/interval/seals-in.ts";
import type { PartWear } from "../../src/interval/wear-findings.ts";

const risks = [100, 200, 300, 400, 500].map(
  (intervalH): RiskAtInterval => ({
    intervalH,
    overLimitPerInspection: { life: null, wear: null },
    unsafeBeforeSeen: null,
  }),
);

const findings = (upper: number) =>
  ({
    part: "grip bearing",
    seal: {
      kind: "fitted",
      groups: [
        { environment: "sandy", standard: "plain", rateAllIn: { estimate: 0.6, lower: 0.5, upper } },
        { environment: "sandy", standard: "shielded", rateAllIn: null },
      ],
    },
  }) as unknown as PartWear;

describe("slower(longestH, rateShare, risks)", () => {
  it("takes every seal in tolerance as fewer hours: at half the rate 300 h count as 150", () => {
    expect(slower(200, 0.5, risks)).toBe(400);
    expect(slower(200, 0.7, risks)).toBe(200);
    expect(slower(200, 1, risks)).toBe(200);
  });
});

describe("withSealsIn(recommendation, wear)", () => {
  const recommendation = (longestByBoundH: number | null, standard = "plain") =>
    ({
      group: { part: "grip bearing", environment: "sandy", standard },
      ...{ longestByBoundH, risks },
      wouldChange: { yearMore: null },
    }) as unknown as OwnRecommendation;
  const seals = (own: OwnRecommendation, upper = 0.5) => withSealsIn(own, findings(upper)).wouldChange;

  it("adds the scenario to what is there", () => {
    expect(seals(recommendation(200))).toEqual({
      yearMore: null,
      sealsIn: { rateShare: 0.5, longestH: 400 },
    });
  });

  it("knows of none without an interval that holds, or without a rate", () => {
    expect(seals(recommendation(null)).sealsIn).toBeNull();
    expect(seals(recommendation(200, "shielded")).sealsIn).toBeNull();
  });
});

describe("rateWithSealsIn(findings, group)", () => {
  const of = (standard: string, upper = 0.7) =>
    rateWithSealsIn(findings(upper), { part: "grip bearing", environment: "sandy", standard });

  it("is the cautious side of the group's own scenario, and nothing where that gains nothing or is not known", () => {
    expect(of("plain")).toBe(0.7);
    expect(of("plain", 1.02)).toBeNull();
    expect(of("shielded")).toBeNull();
    expect(of("other")).toBeNull();
  });
});
