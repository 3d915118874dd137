import { describe, expect, it } from "vitest";
import { groupEvidence } from "../../src/interval/evidence.ts";
import { lifeFits } from "../../src/interval/group-life.ts";
import { lifeChecks } from "../../src/interval/life-checks.ts";
import { seededRandom } from "../../src/math/random.ts";
import { overLimitTable } from "../../src/records/event-table.ts";
import { makeLife } from "../records/make-life.ts";

const part = { part: "grip bearing", replaceAtMm: 0.5, unsafeAtMm: null, beyondLimitFactor: 1.5 };
const random = seededRandom(12);
/** 80 lives of shape 6, scale 1500 h, looked at every 300 h, 8 aircraft; the last one, alone on its aircraft, failed early. */
const lives = Array.from({ length: 80 }, (_, i) => {
  const failsAt = i === 79 ? 10 : 1500 * random.exponential() ** (1 / 6);
  const found = Math.ceil(failsAt / 300) * 300;
  const last = Math.min(found, 1500);
  return makeLife({
    component: i,
    aircraft: i === 79 ? "ALONE" : `A${i % 8}`,
    lookHours: Array.from({ length: last / 300 }, (__, k) => 300 * (k + 1)),
    lowerHours: found > 1500 ? last : found - 300,
    upperHours: found > 1500 ? Number.POSITIVE_INFINITY : found,
    end: found > 1500 ? "still fitted" : "over limit found",
    lastHours: last,
  });
});
const evidence = groupEvidence(
  { part: "grip bearing", environment: "sandy", standard: "plain" },
  lives,
  part as Parameters<typeof groupEvidence>[2],
  null,
  0.95,
);
const table = overLimitTable(lives);
const { fit, curve } = lifeFits(table, 0.95);
const serials = lives.map((_, i) => `S${i}`);

describe("lifeChecks(evidence, fit, table, curve, spacingH, serials)", () => {
  if (fit.kind !== "fitted") throw new Error(fit.why);
  const checks = lifeChecks(evidence, fit, table, curve, 330, serials);

  it("names the life and the aircraft that move the 10 % life most, an aircraft with one life not twice", () => {
    expect(checks.influence).toHaveLength(3);
    expect(checks.influence[0]).toMatchObject({ kind: "life", name: "S79", lives: 1 });
    expect(checks.influence[0]!.lifeRatio!).toBeGreaterThan(1);
    expect(checks.influence.map(({ name }) => name)).not.toContain("ALONE");
  });

  it("gives the over-limit share under both distributions at the interval asked for", () => {
    expect(checks.alternative).toMatchObject({ spacingH: 330 });
    expect(checks.alternative!.weibullShare).toBeGreaterThan(0);
    expect(lifeChecks(evidence, fit, table, curve, null, serials).alternative).toBeNull();
  });

  it("finds no misfit in Weibull lives, and what taking finds for failures would have said", () => {
    expect(checks.curve).toMatchObject({ agrees: true });
    expect(checks.shortcuts.map(({ sentence }) => sentence)).toEqual([
      expect.stringContaining("middle of its interval"),
      expect.stringMatching(/hours of the look that found it .* too long/),
    ]);
  });
});
