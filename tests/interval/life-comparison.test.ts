import { describe, expect, it } from "vitest";
import { groupEvidence } from "../../src/interval/evidence.ts";
import { lifeComparison } from "../../src/interval/life-comparison.ts";
import { seededRandom } from "../../src/math/random.ts";
import type { Life } from "../../src/records/life.ts";
import { makeLife } from "../records/make-life.ts";

const part = { part: "grip bearing", replaceAtMm: 0.5, unsafeAtMm: null, beyondLimitFactor: 1.5 };
const evidence = (environment: string, standard: string, lives: readonly Life[]) =>
  groupEvidence(
    { part: "grip bearing", environment, standard },
    lives,
    part as Parameters<typeof groupEvidence>[2],
    null,
    0.95,
  );

/** Lives fitted from `fromDay` on, looked at every 300 h, 3 h a day, until day 3000; Weibull of shape 3. */
function lives(
  group: { environment: string; standard: string; scaleHours: number },
  fromDay: number,
  random: ReturnType<typeof seededRandom>,
  count = 120,
): Life[] {
  return Array.from({ length: count }, (_, i) => {
    const began = fromDay + Math.floor(random.uniform() * (2000 - fromDay));
    const failsAt = group.scaleHours * random.exponential() ** (1 / 3);
    const looks = Math.floor((3000 - began) / 100);
    const hours = Array.from({ length: looks }, (_, k) => 300 * (k + 1));
    const found = hours.findIndex((at) => at >= failsAt);
    const lookHours = found < 0 ? hours : hours.slice(0, found + 1);
    const lookDays = lookHours.map((at) => began + at / 3);
    const last = lookHours.at(-1)!;
    return makeLife({
      component: i,
      group: { part: "grip bearing", environment: group.environment, standard: group.standard },
      aircraft: `A${i % 12}`,
      lookHours,
      lookDays,
      firstDay: lookDays[0]!,
      lastDay: lookDays.at(-1)!,
      lowerHours: found < 0 ? last : last - 300,
      upperHours: found < 0 ? Number.POSITIVE_INFINITY : last,
      end: found < 0 ? "still fitted" : "over limit found",
      eventDay: found < 0 ? null : lookDays.at(-1)!,
      lastHours: last,
      removal: found < 0 ? null : { mode: "wear", inService: false, noFaultFound: false },
    });
  });
}

describe("lifeComparison(groups, confidence)", () => {
  const random = seededRandom(4);
  const sandy = (standard: string, scaleHours: number, fromDay: number) =>
    evidence("sandy", standard, lives({ environment: "sandy", standard, scaleHours }, fromDay, random));
  const plain = sandy("plain", 1200, 0);
  const shielded = sandy("shielded", 2400, 800);
  const temperate = evidence(
    "temperate",
    "plain",
    lives({ environment: "temperate", standard: "plain", scaleHours: 3000 }, 0, random),
  );
  const one = lifeComparison([plain, shielded, temperate], 0.95);

  it("says in one sentence whether the newer standard helped, from days on which both were there (truth: 2 times)", () => {
    const [only, ...more] = one!.standards;
    expect(more).toEqual([]);
    expect(only).toMatchObject({ environment: "sandy", of: "shielded", against: "plain", why: null });
    expect(only!.fromDay).toBeGreaterThanOrEqual(900);
    const { ratio, sentence, p, removalsP } = only!.compared!;
    // Standard error about 0.06 on the log.
    expect(Math.abs(Math.log(ratio.estimate / 2))).toBeLessThan(0.18);
    expect(ratio.lower! < 2 && 2 < ratio.upper!).toBe(true);
    expect(sentence).toMatch(/^shielded lasts longer than plain: \d\.\d times as long \(95 %: /);
    expect(p).toBeLessThan(1e-6);
    expect(removalsP!).toBeLessThan(1e-6);
  });

  it("sees only the lives of those days: plain ones over before shielded came are left out", () => {
    expect(one!.standards[0]!.lives.against).toBeLessThan(120);
    expect(one!.standards[0]!.lives.of).toBe(120);
  });

  it("gives effects of environment and standard, and a test of one shape for all (truth: shape 3)", () => {
    const effect = (level: string) => one!.effects.find((each) => each.level === level)!.ratio.estimate;
    const temperateOverSandy = one!.effects.some(({ level }) => level === "temperate")
      ? effect("temperate")
      : 1 / effect("sandy");
    expect(Math.abs(Math.log(temperateOverSandy / 2.5))).toBeLessThan(0.25);
    expect(one!.shape).toMatchObject({ groups: 3, degreesOfFreedom: 2 });
    expect(Math.abs(one!.shape!.shape - 3)).toBeLessThan(0.5);
    expect(one!.shape!.p).toBeGreaterThan(0.01);
  });

  it("says why there is no comparison: too few events, or never at one time", () => {
    const few = evidence(
      "sandy",
      "new",
      plain.lives.slice(0, 2).map((life) => ({ ...life, upperHours: Infinity, eventDay: null })),
    );
    const none = lifeComparison([evidence("sandy", "plain", plain.lives.slice(3, 5)), few], 0.95);
    expect(none!.standards[0]).toMatchObject({
      compared: null,
      why: expect.stringMatching(/too few to compare/),
    });
    const later = plain.lives.map((life) => ({
      ...life,
      firstDay: life.firstDay + 9000,
      lastDay: life.lastDay + 9000,
      lookDays: life.lookDays.map((day) => day + 9000),
      eventDay: life.eventDay === null ? null : life.eventDay + 9000,
    }));
    const apart = lifeComparison([plain, evidence("sandy", "later", later)], 0.95);
    expect(apart!.standards[0]).toMatchObject({
      of: "later",
      compared: null,
      why: "the two were never under observation at one time",
    });
  });

  it("has nothing to say of a part with one group", () => {
    expect(lifeComparison([plain], 0.95)).toBeNull();
  });
});
