import { describe, expect, it } from "vitest";
import { climbOfExact } from "../../src/life/exact-climb.ts";
import { weibullLikelihood } from "../../src/life/likelihood-terms.ts";
import { climb } from "../../src/life/weibull-climb.ts";
import { likelihoodAt } from "../../src/life/weibull-likelihood.ts";
import { seededRandom } from "../../src/math/random.ts";
import { lifeTable } from "../../src/records/life-table.ts";
import { apart } from "./reference-data.ts";

/** Weibull lives, of which about a half still run. */
function halfCensored(lives: number, shape: number, scale: number, seed: number) {
  const random = seededRandom(seed);
  return lifeTable(
    Array.from({ length: lives }, () => {
      const hours = scale * (-Math.log1p(-random.uniform())) ** (1 / shape);
      const end = 2 * scale * random.uniform();
      return { lowerHours: Math.min(hours, end), upperHours: hours < end ? hours : Number.POSITIVE_INFINITY };
    }),
  );
}

describe("climbOfExact(data, startBeta)", () => {
  const tables = [0.3, 1, 2.5, 20].flatMap((shape) =>
    [6, 40, 500].map((lives, k) => ({ shape, lives, table: halfCensored(lives, shape, 1000, 50 + k) })),
  );

  it("ends where the search in both parameters does, from near and from far, with the likelihood of that place", () => {
    for (const { shape, table } of tables) {
      const data = weibullLikelihood(table);
      const slow = climb(data, 0, 1);
      if (slow.kind !== "top") throw new Error(slow.kind);
      for (const start of [shape, 0.01, 8 * shape]) {
        const fast = climbOfExact(data, start);
        if (fast?.kind !== "top") throw new Error("no top");
        expect(apart(fast.beta, slow.beta)).toBeLessThan(1e-11);
        expect(Math.abs(fast.alpha - slow.alpha)).toBeLessThan(1e-11 * (1 + Math.abs(slow.alpha)));
        const there = likelihoodAt(data, fast.alpha, fast.beta);
        expect(Math.abs(there.gradBeta)).toBeLessThan(1e-9 * (1 + Math.abs(there.hessBetaBeta) * fast.beta));
        expect(apart(fast.logLikelihood, there.value)).toBeLessThan(1e-12);
        for (const key of ["hessAlphaAlpha", "hessAlphaBeta", "hessBetaBeta"] as const)
          expect(Math.abs(fast.before[key] - there[key])).toBeLessThan(1e-9 * Math.abs(there.hessBetaBeta));
      }
    }
  });

  it("takes at most five passes from a guess that is out by a half", () => {
    for (const { shape, table } of tables.filter(({ lives }) => lives === 500)) {
      const top = climbOfExact(weibullLikelihood(table), 1.5 * shape);
      expect(top).toMatchObject({ kind: "top" });
      if (top?.kind === "top") expect(top.iterations).toBeLessThanOrEqual(5);
    }
  });

  it("gives up where the sums are beyond the greatest number", () => {
    const table = lifeTable([
      { lowerHours: 1, upperHours: 1 },
      { lowerHours: 2, upperHours: 2 },
      { lowerHours: 1e9, upperHours: Number.POSITIVE_INFINITY },
    ]);
    expect(climbOfExact(weibullLikelihood(table), 100)).toBeNull();
  });
});
