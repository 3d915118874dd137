import { CholeskyDecomposition, Matrix } from "ml-matrix";
import { describe, expect, it } from "vitest";
import { seededRandom } from "../../src/math/random.ts";
import { boundThreshold, plainThreshold, toleranceFactor } from "../../src/wear/bound-threshold.ts";
import { componentSums } from "../../src/wear/component-sums.ts";
import { fitDecision, fitFamily, type RateFit } from "../../src/wear/decision-fit.ts";
import { type DecisionData, decisionLikelihood, parametersOf } from "../../src/wear/decision-likelihood.ts";
import { boundOverRegion, likelihoodRegion } from "../../src/wear/likelihood-region.ts";
import { fitMixedModel } from "../../src/wear/mixed-model.ts";
import {
  meanRate,
  type RateFamily,
  rateCdf,
  rateQuantile,
  survivalBelowLimit,
} from "../../src/wear/rate-families.ts";
import { simulateWear } from "./simulate-wear.ts";

const THETA: Record<RateFamily, Float64Array> = {
  lognormal: Float64Array.of(0.018, 0.6, Math.log(0.02), Math.log(0.25), 0.45),
  normal: Float64Array.of(0.018, 0.6, Math.log(0.02), 0.27, 0.13),
};

const density = (x: number, sd: number) => Math.exp(-0.5 * (x / sd) ** 2) / sd / Math.sqrt(2 * Math.PI);

/** The same likelihood with a plain sum over rates and over offsets u: slow, and nothing in common with the fit. */
function slowLogLikelihood(
  data: DecisionData & { table: { component: Int32Array; hours: Float64Array; wearMm: Float64Array } },
  family: RateFamily,
  theta: Float64Array,
): number {
  const p = parametersOf(family, theta);
  const rates = Array.from({ length: 1600 }, (_, k) => (k + 0.5) * 0.001);
  const prior = rates.map((b) => (rateCdf(p, b + 0.0005) - rateCdf(p, b - 0.0005)) / 0.001);
  const offsets = Array.from({ length: 81 }, (_, k) => ((k - 40) / 8) * p.interceptSdMm);
  const omega = Math.hypot(p.interceptSdMm, p.measurementSdMm);
  let total = 0;
  for (let i = 0; i < data.sums.components; i++) {
    const rows = [...data.table.component.keys()].filter(
      (row) => data.table.component[row] === data.sums.component[i],
    );
    let likelihood = 0;
    let entered = 0;
    for (const [k, b] of rates.entries()) {
      let given = 0;
      for (const u of offsets) {
        let product = density(u, p.interceptSdMm) * (p.interceptSdMm / 8);
        for (const row of rows) {
          const line = p.interceptMm + u + (b * data.table.hours[row]!) / 1000;
          product *= density(data.table.wearMm[row]! - line, p.measurementSdMm);
        }
        given += product;
      }
      likelihood += given * prior[k]! * 0.001;
      const room = (data.replaceAtMm - p.interceptMm - (b * data.entryHours[i]!) / 1000) / omega;
      entered += rateCdfNormal(room) * prior[k]! * 0.001;
    }
    total += Math.log(likelihood) - (data.entryHours[i]! > 0 ? Math.log(entered) : 0);
  }
  return total;
}

const rateCdfNormal = (z: number) =>
  rateCdf(
    { family: "lognormal", location: 0, spread: 1, interceptMm: 0, interceptSdMm: 0, measurementSdMm: 1 },
    Math.exp(z),
  );

function fitted(data: DecisionData, family: RateFamily = "lognormal"): RateFit {
  const result = fitFamily(data, family, "all");
  if (result.kind !== "fitted") throw new Error("not fitted");
  return result.fit;
}

const near = (value: number, expected: number, relative: number) =>
  expect(Math.abs(value - expected), `${value} against ${expected}`).toBeLessThanOrEqual(
    relative * Math.abs(expected),
  );

describe("decisionLikelihood(data, family)", () => {
  const data = simulateWear({ seed: 4, components: 12, recordHours: 1500 });

  for (const family of ["lognormal", "normal"] as const) {
    it(`equals plain sums over ${family} rates and offsets, late entries among them`, () => {
      expect(data.entryHours.some((hours) => hours > 0)).toBe(true);
      expect([...data.sums.count]).toContain(1);
      near(
        decisionLikelihood(data, family).value(THETA[family]),
        slowLogLikelihood(data, family, THETA[family]),
        1e-4,
      );
    });

    it(`has the gradient that differences give (${family})`, () => {
      const likelihood = decisionLikelihood(data, family);
      const gradient = likelihood.gradient(THETA[family]);
      for (let k = 0; k < 5; k++) {
        const moved = (step: number) => THETA[family].map((v, j) => (j === k ? v + step : v));
        const slope = (likelihood.value(moved(1e-5)) - likelihood.value(moved(-1e-5))) / 2e-5;
        near(gradient[k]!, slope, 1e-3);
      }
    });
  }

  it("is even in the two signed parameters, and finite at a zero spread", () => {
    for (const family of ["lognormal", "normal"] as const) {
      const likelihood = decisionLikelihood(data, family);
      const flipped = THETA[family].map((v, k) => (k === 1 || k === 4 ? -v : v));
      near(likelihood.value(flipped), likelihood.value(THETA[family]), 1e-12);
      const none = THETA[family].map((v, k) => (k === 4 ? 0 : v));
      expect(Number.isFinite(likelihood.value(none))).toBe(true);
      expect(likelihood.gradient(none).every(Number.isFinite)).toBe(true);
    }
  });

  it("without late entries and far from zero rates equals the multivariate normal likelihood (identity)", () => {
    const fromNew = simulateWear({ seed: 9, components: 15, fromNew: true });
    const theta = Float64Array.of(0.02, 0.5, Math.log(0.018), 0.26, 0.04);
    const { measurementSdMm: sigma, interceptSdMm: tau } = parametersOf("normal", theta);
    let total = 0;
    for (const i of fromNew.sums.component) {
      const rows = [...fromNew.table.component.keys()].filter((row) => fromNew.table.component[row] === i);
      const h = rows.map((row) => fromNew.table.hours[row]! / 1000);
      const r = rows.map((row, k) => fromNew.table.wearMm[row]! - 0.02 - 0.26 * h[k]!);
      const v = new Matrix(
        h.map((hj, j) => h.map((hk, k) => tau ** 2 + 0.04 ** 2 * (hj * hk) + (j === k ? sigma ** 2 : 0))),
      );
      const cholesky = new CholeskyDecomposition(v);
      const logDet = 2 * cholesky.lowerTriangularMatrix.diagonal().reduce((sum, d) => sum + Math.log(d), 0);
      const quadratic = cholesky
        .solve(Matrix.columnVector(r))
        .to1DArray()
        .reduce((sum, x, k) => sum + x * r[k]!, 0);
      total -= 0.5 * (rows.length * Math.log(2 * Math.PI) + logDet + quadratic);
    }
    near(decisionLikelihood(fromNew, "normal").value(theta), total, 1e-9);
  });
});

describe("fitDecision(data)", () => {
  it("finds the rates that wear was simulated with, for both families", () => {
    for (const family of ["lognormal", "normal"] as const) {
      const data = simulateWear({
        seed: 21,
        components: 600,
        family,
        spread: family === "normal" ? 0.3 : 0.4,
      });
      const fit = fitted(data, family);
      const sd = (k: number) => Math.sqrt(fit.covariance[k * 6]!);
      const truth = family === "lognormal" ? [Math.log(0.25), 0.4] : [0.25, 0.075];
      expect(Math.abs(fit.parameters.location - truth[0]!)).toBeLessThan(3 * sd(3));
      expect(Math.abs(fit.parameters.spread - truth[1]!)).toBeLessThan(3 * sd(4));
      expect(Math.abs(fit.parameters.measurementSdMm / 0.015 - 1)).toBeLessThan(0.15);
      expect(fit.likelihood.gradient(fit.theta).every((g) => Math.abs(g) < 0.01 / sd(0))).toBe(true);
    }
  });

  it("removes what plain REML gets wrong on 600 h of record: survivors are slow", () => {
    // 12 fleets of 150 components looked at every 300 h; the mean rate by which 1 component in 10 is worn to the limit.
    let plain = 0;
    let decided = 0;
    const fleets = 12;
    for (let seed = 1; seed <= fleets; seed++) {
      const data = simulateWear({ seed, components: 150, recordHours: 600 });
      const reml = fitMixedModel(data.sums);
      if (reml.kind !== "fitted") throw new Error(reml.why);
      const rate = reml.rateMmPer1000Hours.estimate + 1.2816 * reml.componentSd.rateMmPer1000Hours;
      plain += (0.5 - reml.interceptMm.estimate) / rate / fleets;
      decided += 0.48 / rateQuantile(fitted(data).parameters, 0.9) / fleets;
    }
    const truth = 0.48 / (0.25 * Math.exp(0.4 * 1.2816));
    expect(plain / truth).toBeGreaterThan(1.15);
    expect(Math.abs(decided / truth - 1)).toBeLessThan(0.05);
  });

  it("keeps both families where the readings can't tell, and fits the components followed from new apart", () => {
    const data = simulateWear({ seed: 3, components: 40 });
    const result = fitDecision(data);
    if (result.kind !== "fitted") throw new Error(result.kind);
    const all = result.fits.filter((fit) => fit.sample === "all");
    const apart = result.fits.filter((fit) => fit.sample === "from new");
    expect(result.decided === "undecided" ? 2 : 1).toBe(all.length);
    expect(apart.length).toBeGreaterThan(0);
    expect(result.noFitFromNew).toBeNull();
    expect(apart[0]!.components).toBe(40 - all[0]!.enteredLate);
    if (all.length === 2) expect(Math.abs(all[0]!.aic - all[1]!.aic)).toBeLessThan(4);
  });

  it("fits short records of at most two readings a component (the search once began with no scatter at all)", () => {
    const shared = { recordHours: 600, seed: 160, components: 35, perAircraft: 2 };
    const wide = simulateWear({ ...shared, spread: 0.73, scatterMm: 0.012, medianRate: 0.44 });
    const rough = simulateWear({ ...shared, seed: 165, components: 21, scatterMm: 0.041, medianRate: 0.2 });
    for (const data of [wide, rough]) {
      expect(data.sums.count.filter((n) => n > 2).length).toBeLessThan(3);
      const result = fitDecision(data);
      if (result.kind !== "fitted") throw new Error(result.why);
      expect(result.notFitted).toEqual([]);
      const { measurementSdMm, interceptSdMm } = result.fits[0]!.parameters;
      expect(Math.hypot(measurementSdMm, interceptSdMm)).toBeGreaterThan(0.005);
    }
  });

  it("refuses fewer than ten components and readings without repeats", () => {
    expect(fitDecision(simulateWear({ seed: 2, components: 9 }))).toMatchObject({ kind: "too-few" });
    const data = simulateWear({ seed: 2, components: 30, fromNew: true });
    const first = new Map<number, number>();
    for (let row = 0; row < data.table.rows; row++) {
      if (!first.has(data.table.component[row]!)) first.set(data.table.component[row]!, row);
    }
    const rows = [...first.values()];
    const single = {
      rows: rows.length,
      components: data.table.components,
      component: Int32Array.from(rows, (row) => data.table.component[row]!),
      hours: Float64Array.from(rows, (row) => data.table.hours[row]!),
      wearMm: Float64Array.from(rows, (row) => data.table.wearMm[row]!),
    };
    const result = fitDecision({ ...data, sums: componentSums(single) });
    expect(result).toMatchObject({ kind: "too-few", why: /read twice/ });
  });
});

describe("rate families", () => {
  const lognormal = parametersOf("lognormal", THETA.lognormal);
  const normal = parametersOf("normal", THETA.normal);

  it("have quantiles that invert their distributions, to the far tail", () => {
    for (const parameters of [lognormal, normal]) {
      for (const p of [0.001, 0.1, 0.5, 0.9, 0.999])
        near(rateCdf(parameters, rateQuantile(parameters, p)), p, 1e-7);
    }
    // R 4.2.2: 0.1 + 0.13 * qnorm(1 - 1e-6 * pnorm(0.1/0.13))
    near(rateQuantile({ ...normal, location: 0.1 }, 0.999999), 0.7244702764, 1e-6);
  });

  it("give the mean rate and the chance below a limit that drawing components gives", () => {
    for (const parameters of [lognormal, normal]) {
      const random = seededRandom(5);
      const draws = 100_000;
      let below = 0;
      let mean = 0;
      for (let k = 0; k < draws; k++) {
        const b = rateQuantile(parameters, random.uniform());
        const wear =
          parameters.interceptMm +
          parameters.interceptSdMm * random.normal() +
          b * 1.8 +
          parameters.measurementSdMm * random.normal();
        below += wear < 0.5 ? 1 / draws : 0;
        mean += b / draws;
      }
      expect(Math.abs(survivalBelowLimit(parameters, 1800, 0.5) - below)).toBeLessThan(0.006);
      near(meanRate(parameters), mean, 0.006);
    }
    expect(survivalBelowLimit(lognormal, 0, 0.5)).toBeCloseTo(1, 12);
  });
});

describe("boundThreshold(components, confidence)", () => {
  it("rests on the exact tolerance factors (R 4.2.2: qt(0.95, n - 1, qnorm(p)·√n)/√n)", () => {
    near(toleranceFactor(10, 0.9, 0.95), 2.35464013183, 1e-9);
    near(toleranceFactor(20, 0.99, 0.95), 3.29515693618, 1e-9);
  });
  it("falls to the plain threshold as components grow", () => {
    const many = [10, 30, 100, 1000].map((n) => boundThreshold(n, 0.95));
    expect([...many].sort((a, b) => b - a)).toEqual(many);
    expect(plainThreshold(0.95)).toBeCloseTo(2.705543454, 9);
    expect(many[3]! / plainThreshold(0.95)).toBeLessThan(1.06);
  });
});

describe("likelihoodRegion(fit, confidence)", () => {
  const fit = fitted(simulateWear({ seed: 31, components: 150, fromNew: true }));
  const region = likelihoodRegion(fit, 0.95);

  it("bounds a parameter as a standard error does, where the likelihood is near its quadratic picture", () => {
    const { lower, upper, estimate, clusterInflation } = region.bound((p) => p.location);
    const reach = Math.sqrt(region.threshold * clusterInflation * fit.covariance[18]!);
    near(upper - estimate, reach, 0.05);
    near(estimate - lower, reach, 0.05);
    expect(clusterInflation).toBeGreaterThanOrEqual(1);
  });

  it("stays on the true likelihood: no point found beats the profile by more than its tolerance", () => {
    const risk = (p: Parameters<typeof rateQuantile>[0]) => rateQuantile(p, 0.999);
    const { upper, clusterInflation } = region.bound(risk);
    // The profile likelihood at the bound, by plain random search near the line where the risk has that value.
    const random = seededRandom(8);
    let best = Number.NEGATIVE_INFINITY;
    for (let k = 0; k < 2500; k++) {
      const theta = fit.theta.map((v, j) => v + 1.5 * Math.sqrt(fit.covariance[j * 6]!) * random.normal());
      theta[3] = Math.log(upper) - theta[4]! * 3.090232306;
      best = Math.max(best, fit.likelihood.value(theta));
    }
    const drop = 2 * (fit.logLikelihood - best);
    const allowed = region.threshold * clusterInflation;
    expect(drop).toBeGreaterThan(0.9 * allowed);
    expect(drop).toBeLessThan(1.25 * allowed);
  });

  it("is wider at more confidence, and wider where components of one aircraft are alike", () => {
    const risk = (p: Parameters<typeof rateQuantile>[0]) => rateQuantile(p, 0.99);
    expect(boundOverRegion(fit, risk, 0.99).upper).toBeGreaterThan(region.bound(risk).upper);
    const alike = fitted(
      simulateWear({ seed: 2, components: 200, perAircraft: 8, aircraftCorrelation: 0.6, fromNew: true }),
    );
    expect(boundOverRegion(alike, risk, 0.95).clusterInflation).toBeGreaterThan(2);
  });

  it("bounds a step function by its largest value in the region, and a constant by itself", () => {
    const middle = region.bound((p) => p.location).estimate;
    expect(region.bound((p) => (p.location > middle + 0.01 ? 1 : 0))).toMatchObject({
      estimate: 0,
      upper: 1,
    });
    expect(region.bound(() => 7)).toMatchObject({ estimate: 7, lower: 7, upper: 7 });
  });

  it("asked up to a level only, is the bound itself below it and on its side above", () => {
    const risk = (p: Parameters<typeof rateQuantile>[0]) => rateQuantile(p, 0.99);
    let asked = 0;
    const counted = (p: Parameters<typeof rateQuantile>[0]) => {
      asked++;
      return risk(p);
    };
    const { upper } = region.bound(counted, "upper");
    const whole = asked;
    for (const share of [0.8, 0.97, 0.9999, 1, 1.1]) {
      asked = 0;
      const found = region.bound(counted, { upTo: share * upper });
      if (share >= 1) expect(found.upper).toBe(upper);
      else {
        expect(found.upper).toBeGreaterThan(share * upper);
        expect(found.upper).toBeLessThanOrEqual(upper);
      }
      if (share === 0.8) expect(asked).toBeLessThan(whole / 10);
    }
  });
});
