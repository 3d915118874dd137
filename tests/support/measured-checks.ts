/**
 * How far our numbers are from others', measured: a test compares the rows with those that the program ships
 * (src/report/pages/reference-checks.ts).
 */
import { readFileSync } from "node:fs";
import { cumulativeIncidence, incidenceBounds } from "../../src/life/cumulative-incidence.ts";
import { twoSidedDrop } from "../../src/life/likelihood-drop.ts";
import { lifeAt, lifeBounds, shapeBounds } from "../../src/life/profile-bounds.ts";
import { survivalCurve } from "../../src/life/survival-curve.ts";
import { type FittedWeibull, fitWeibull } from "../../src/life/weibull-fit.ts";
import { fitWeibullRegression } from "../../src/life/weibull-regression.ts";
import { poissonBounds } from "../../src/math/exact-bounds.ts";
import type { ReferenceCheck } from "../../src/report/pages/reference-checks.ts";
import { meanCumulative } from "../../src/trend/mean-cumulative.ts";
import { componentSums } from "../../src/wear/component-sums.ts";
import { fitMixedModel, type MixedModel } from "../../src/wear/mixed-model.ts";
import { apart, dataTable, reference } from "../life/reference-data.ts";
import { incidenceLives, regressionDesign } from "../life/reference-designs.ts";
import { readUnits, trendReference } from "../trend/read-reference.ts";
import { readSet } from "../wear/read-set.ts";

interface Row extends Omit<ReferenceCheck, "underPowerOfTen"> {
  /** Largest relative difference. */
  readonly apart: number;
}

const wearReference: {
  readonly source: string;
  readonly sets: readonly {
    readonly set: string;
    readonly intercept: readonly number[];
    readonly rate_per_1000h: readonly number[];
    readonly sd_measurement: number;
  }[];
} = JSON.parse(readFileSync(new URL("../reference/wear.json", import.meta.url), "utf8"));

/** In the retirement home lives enter late: R has no fitter for that, its optimiser gave the values, to fewer digits. */
const LATE = "retirement-home";

const most = (differences: readonly number[]): number => Math.max(0, ...differences);
const sets = (late: boolean) => reference.weibull.filter(({ data }) => (data === LATE) === late);

function weibull(data: string, group: string): FittedWeibull {
  const fit = fitWeibull(dataTable(data, group));
  if (fit.kind !== "fitted") throw new Error(fit.why);
  return fit;
}

function mixed(name: string): MixedModel {
  const fit = fitMixedModel(componentSums(readSet(name)));
  if (fit.kind !== "fitted") throw new Error(fit.why);
  return fit;
}

function weibullRows(late: boolean, against: string): Row[] {
  const fits = sets(late).map((entry) => ({ entry, fit: weibull(entry.data, entry.group) }));
  const drop = twoSidedDrop(0.95);
  const name = late ? "with late entry" : "exact, interval, left and right censored";
  return [
    {
      what: `Weibull shape and scale, ${fits.length} data sets, ${name}`,
      against,
      allowed: late ? reference.tolerance.late : reference.tolerance.estimate,
      apart: most(
        fits.flatMap(({ entry, fit }) => [apart(fit.shape, entry.shape), apart(fit.scaleHours, entry.scale)]),
      ),
    },
    {
      what: `their likelihood-ratio bounds${late ? ", late entry" : ""}: shape and five lives of each`,
      against: late ? against : "the likelihood profiled in R",
      allowed: late ? 1e-4 : reference.tolerance.bound,
      apart: most(
        fits.flatMap(({ entry, fit }) => {
          const shape = shapeBounds(fit, drop);
          const lives = entry.livesAt.flatMap((at) => {
            const bounds = lifeBounds(fit, at.fraction, drop);
            return [
              apart(lifeAt(fit, at.fraction), at.hours),
              apart(bounds.lower!, at.lower),
              apart(bounds.upper!, at.upper),
            ];
          });
          return [
            apart(shape.lower!, entry.shapeBounds[0]!),
            apart(shape.upper!, entry.shapeBounds[1]!),
            ...lives,
          ];
        }),
      ),
    },
  ];
}

function curveRow(): Row {
  const differences = reference.kaplanMeier.flatMap((entry) => {
    const curve = survivalCurve(dataTable(entry.data, entry.group), 0.95);
    if (curve.kind !== "curve") throw new Error(curve.why);
    return curve.points
      .filter(({ hours }) => hours > entry.from)
      .flatMap(({ survival }, at) =>
        entry.survival[at] === 0 ? [] : [apart(survival, entry.survival[at]!)],
      );
  });
  return {
    what: `Kaplan–Meier curves, ${reference.kaplanMeier.length} data sets`,
    against: "R survival, survfit",
    allowed: 1e-9,
    apart: most(differences),
  };
}

function wearRows(): Row[] {
  const compared = wearReference.sets.filter(({ set }) => set === "sleepstudy" || set === "wear-unbalanced");
  const differences = compared.flatMap((entry) => {
    const fit = mixed(entry.set);
    const own = ({ estimate, standardError, lower, upper }: MixedModel["interceptMm"]) => [
      estimate,
      standardError,
      lower,
      upper,
    ];
    return [
      ...own(fit.interceptMm).map((value, at) => apart(value, entry.intercept[at]!)),
      ...own(fit.rateMmPer1000Hours).map((value, at) => apart(value, entry.rate_per_1000h[at]!)),
      apart(fit.measurementSdMm, entry.sd_measurement),
    ];
  });
  const published = mixed("sleepstudy");
  return [
    {
      what: `wear rates with bounds and scatter, ${compared.length} data sets`,
      against: "R nlme, lme",
      allowed: 1e-6,
      apart: most(differences),
    },
    {
      what: "the published sleep deprivation fit: slope 10.467, standard error 1.546, intercept 251.405",
      against: "Bates, Mächler, Bolker and Walker (2015)",
      allowed: 1e-3,
      apart: most([
        apart(published.rateMmPer1000Hours.estimate / 1000, 10.467),
        apart(published.rateMmPer1000Hours.standardError / 1000, 1.546),
        apart(published.interceptMm.estimate, 251.405),
      ]),
    },
  ];
}

function handbookRow(): Row {
  const fit = weibull("nist-8-4-1-3", "all");
  return {
    what: "the handbook's Weibull example: shape 1.7208, scale 606.5280 h",
    against: "NIST/SEMATECH e-Handbook, 8.4.1.3",
    allowed: 1e-4,
    apart: most([apart(fit.shape, 1.7208), apart(fit.scaleHours, 606.528)]),
  };
}

function poissonRow(): Row {
  const { counts, lower95, upper95 } = trendReference.poisson;
  const differences = counts.flatMap((count, at) => {
    const { lower, upper } = poissonBounds(count, 0.95);
    return [...(count === 0 ? [] : [apart(lower, lower95[at]!)]), apart(upper, upper95[at]!)];
  });
  return {
    what: `exact limits of ${counts.length} counts`,
    against: "R, poisson.test",
    allowed: 1e-9,
    apart: most(differences),
  };
}

function incidenceRow(): Row {
  const { months, pcm, death } = reference.incidence;
  const { modes, steps } = cumulativeIncidence(incidenceLives());
  const differences = months.flatMap((month, at) =>
    [pcm, death].flatMap((theirs, which) => {
      const m = modes.indexOf(which === 0 ? "pcm" : "death");
      const step = steps.findLast(({ hours }) => hours <= month)!;
      const [chance, error] = [step.incidence[m]!, step.standardError[m]!];
      const { lower, upper } = incidenceBounds(chance, error, 0.95);
      return [
        apart(chance, theirs.chance[at]!),
        apart(error, theirs.standardError[at]!),
        apart(lower!, theirs.lower[at]!),
        apart(upper!, theirs.upper[at]!),
      ];
    }),
  );
  return {
    what: "chances of two competing modes with standard errors and bounds, 1384 lives",
    against: "R survival, survfit of several states",
    allowed: 1e-9,
    apart: most(differences),
  };
}

function regressionRow(): Row {
  const differences = reference.regression.flatMap((entry) => {
    const fit = fitWeibullRegression(dataTable(entry.data), regressionDesign(entry.data));
    if (fit.kind === "none") throw new Error(fit.why);
    return entry.coefficients.flatMap((coefficient, k) => [
      apart(fit.coefficients[k]!, coefficient),
      apart(fit.standardErrors[k]!, entry.standardErrors[k]!),
    ]);
  });
  return {
    what: `Weibull regressions with standard errors, ${reference.regression.length} data sets`,
    against: "R survival, survreg",
    allowed: 1e-5,
    apart: most(differences),
  };
}

function meanCumulativeRow(): Row {
  const differences = trendReference.meanCumulative.flatMap(({ set, mean, standardError }) =>
    meanCumulative(readUnits(set)).flatMap((point, at) => [
      apart(point.mean, mean[at]!),
      apart(point.standardError, standardError[at]!),
    ]),
  );
  return {
    what: `removals per aircraft with standard errors, ${trendReference.meanCumulative.length} sets of repeated events`,
    against: "R survival, survfit with robust variance",
    allowed: 1e-9,
    apart: most(differences),
  };
}

/** The rows as the program ships them; throws where a difference is over what its check allows. */
export function measuredChecks(): ReferenceCheck[] {
  const rows = [
    ...weibullRows(false, "R survival, survreg"),
    ...weibullRows(true, "R, the likelihood by optim"),
    handbookRow(),
    curveRow(),
    incidenceRow(),
    regressionRow(),
    ...wearRows(),
    poissonRow(),
    meanCumulativeRow(),
  ];
  return rows.map(({ apart: difference, ...row }) => {
    if (difference > row.allowed) throw new Error(`${row.what}: ${difference} apart, ${row.allowed} allowed`);
    // The power of ten above a difference: the last bits of another machine can't move it.
    return { ...row, underPowerOfTen: Math.max(-10, Math.floor(Math.log10(difference)) + 1) };
  });
}
