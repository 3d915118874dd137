// %% [markdown]
// # Two published data sets, by hand and by module, beside the published answers
//
// An estimator is believed when it gives what others got from the same numbers. Here the answer is worked out twice: by
// hand, with nothing but the formula and a search anyone can follow, and by the modules that the monthly run uses.

// %% The tables
import { readFileSync } from "node:fs";
import { groupLife } from "../src/interval/group-life.ts";
import { parseLifeTable } from "../src/life/parse-life-table.ts";
import { fitWeibull } from "../src/life/weibull-fit.ts";
import { fixed, whole } from "../src/report/number-format.ts";
import { componentSums } from "../src/wear/component-sums.ts";
import { fitMixedModel } from "../src/wear/mixed-model.ts";
import { parseWearTable } from "../src/wear/parse-wear-table.ts";
import { lineChart } from "./charts.ts";
import { show } from "./kit.ts";

const WHEELS = "data-samples/published/turbine-wheels-life.csv";
const REACTIONS = "data-samples/published/sleep-deprivation-wear.csv";

// %% [markdown]
// ## Turbine wheels: each looked at once
//
// 432 turbine wheels, each inspected once for a crack (Nelson 1982, *Applied Life Data Analysis*, p. 409; in R's survival
// package as `turbine`). Nobody knows when a crack began: a wheel cracked at its look adds log(1 − S(t)) to the
// likelihood, a sound one log S(t), with S(t) = exp(−(t/scale)^shape). R's survreg gives shape 2.1758, scale 4677.7 h and
// log-likelihood −189.287.

// %% By hand: the likelihood, and a search by ever finer steps
const wheels = parseLifeTable(readFileSync(WHEELS, "utf8"), { file: WHEELS }).groups[0]!.table;
const looks = Array.from({ length: wheels.rows }, (_, row) => {
  const cracked = wheels.upperHours[row] !== Number.POSITIVE_INFINITY;
  return {
    cracked,
    hours: cracked ? wheels.upperHours[row]! : wheels.lowerHours[row]!,
    count: wheels.count[row]!,
  };
});
const logLikelihood = (shape: number, scale: number) =>
  looks.reduce((sum, { cracked, hours, count }) => {
    const cumulative = (hours / scale) ** shape;
    return sum + count * (cracked ? Math.log(-Math.expm1(-cumulative)) : -cumulative);
  }, 0);

let [shape, scale] = [1, 3000];
for (let step = 0.5; step > 1e-9; step /= 2) {
  let better = true;
  while (better) {
    better = false;
    for (const [a, b] of [
      [1 + step, 1],
      [1 / (1 + step), 1],
      [1, 1 + step],
      [1, 1 / (1 + step)],
    ] as const) {
      if (logLikelihood(shape * a, scale * b) > logLikelihood(shape, scale)) {
        [shape, scale, better] = [shape * a, scale * b, true];
      }
    }
  }
}

// %% Side by side
const fit = fitWeibull(wheels);
if (fit.kind === "none") throw new Error(fit.why);
const tenPercent = (parameters: { shape: number; scale: number }) =>
  parameters.scale * (-Math.log(0.9)) ** (1 / parameters.shape);
show.table({
  caption: "Weibull of the turbine wheels",
  columns: ["", "By hand", "By module", "R survreg"].map((head, at) => ({ head, numeric: at > 0 })),
  rows: [
    ["Shape", fixed(shape, 4), fixed(fit.shape, 4), "2.1758"],
    ["Scale, h", fixed(scale, 1), fixed(fit.scaleHours, 1), "4677.7"],
    [
      "Log-likelihood",
      fixed(logLikelihood(shape, scale), 3),
      fixed(fit.logLikelihood, 3),
      fixed(-189.287, 3),
    ],
    [
      "10 % life, h",
      whole(tenPercent({ shape, scale })),
      whole(tenPercent({ shape: fit.shape, scale: fit.scaleHours })),
      "1663",
    ],
  ],
});
// A notebook that drifts from what is published must not look well.
if (Math.abs(shape - 2.1758) > 5e-5 || Math.abs(fit.shape - 2.1758) > 5e-5) throw new Error("not R's shape");

// %% The shortcut: the look's hours as the crack's
const naive = fitWeibull({
  ...wheels,
  lowerHours: wheels.lowerHours.map((lower, row) => (looks[row]!.cracked ? looks[row]!.hours : lower)),
});
if (naive.kind === "none") throw new Error(naive.why);
const wrong = tenPercent({ shape: naive.shape, scale: naive.scaleHours });
const right = tenPercent({ shape: fit.shape, scale: fit.scaleHours });
show.text(
  `Had the hours of the look been taken for those of the crack, the 10 % life would read ${whole(wrong)} h instead of ${whole(right)} h: ${fixed(wrong / right, 1)} times too long.`,
);
const life = groupLife(wheels, 0.95);
show.chart(
  lineChart({
    title: `Turbine wheels: 10 % cracked by ${whole(right)} h`,
    caption:
      "Share cracked against hours. Steps: no shape assumed (Turnbull 1976). Lines: the two Weibull fits.",
    xAxis: "Hours at the look",
    yAxis: "Share cracked",
    lines: [
      { name: "observed", points: life.survival.map(({ hours: x, survival }) => ({ x, y: 1 - survival })) },
      {
        name: "as they are",
        interpolate: "linear",
        colour: "var(--env-2, #005f92)",
        points: life.curve
          .filter(({ hours }) => hours <= 4600)
          .map(({ hours: x, survival }) => ({ x, y: 1 - survival })),
      },
      {
        name: "found at",
        interpolate: "linear",
        colour: "var(--env-1, #945400)",
        dash: [7, 3],
        points: life.curve
          .filter(({ hours }) => hours <= 4600)
          .map(({ hours: x }) => ({ x, y: 1 - Math.exp(-((x / naive.scaleHours) ** naive.shape)) })),
      },
    ],
    decimals: { x: 0, y: 3 },
  }),
);

// %% [markdown]
// ## Reaction times: a line for each person
//
// 18 persons over 10 days without enough sleep (Belenky and others 2003); no wear at all, but the set on which fits of
// this kind are compared everywhere. Bates, Mächler, Bolker and Walker (2015, *Journal of Statistical Software* 67(1))
// give intercept 251.405 (standard error 6.825) and slope 10.467 a day (1.546).
//
// Everybody was measured on the same ten days. Then the restricted likelihood has its maximum where paper and pencil
// find it: a line for each person by least squares, the mean of the 18 slopes, and the standard deviation of the slopes
// over √18 as its standard error; the intercepts likewise.

// %% By hand: 18 lines, and their means
const parsed = parseWearTable(readFileSync(REACTIONS, "utf8"), REACTIONS);
if (parsed.kind === "unusable") throw new Error(`${REACTIONS} can't be read`);
const reactions = parsed.groups[0]!.table;
const lines = Array.from({ length: reactions.components }, (_, person) => {
  const rows = Array.from(reactions.component.keys()).filter((row) => reactions.component[row] === person);
  const mean = (of: (row: number) => number) => rows.reduce((sum, row) => sum + of(row), 0) / rows.length;
  const day = mean((row) => reactions.hours[row]!);
  const time = mean((row) => reactions.wearMm[row]!);
  const slope =
    mean((row) => (reactions.hours[row]! - day) * (reactions.wearMm[row]! - time)) /
    mean((row) => (reactions.hours[row]! - day) ** 2);
  return { slope, intercept: time - slope * day };
});
const meanOf = (values: readonly number[]) => values.reduce((sum, value) => sum + value, 0) / values.length;
const errorOf = (values: readonly number[]) => {
  const centre = meanOf(values);
  const squares = values.reduce((sum, value) => sum + (value - centre) ** 2, 0);
  return Math.sqrt(squares / (values.length - 1) / values.length);
};
const slopes = lines.map(({ slope }) => slope);
const intercepts = lines.map(({ intercept }) => intercept);

// %% Side by side
const mixed = fitMixedModel(componentSums(reactions), 0.95);
if (mixed.kind !== "fitted") throw new Error(mixed.why);
const { interceptMm, rateMmPer1000Hours } = mixed;
show.table({
  caption: "Reaction time in milliseconds against days",
  columns: ["", "By hand", "By module", "Published"].map((head, at) => ({ head, numeric: at > 0 })),
  rows: [
    ["Intercept", fixed(meanOf(intercepts), 3), fixed(interceptMm.estimate, 3), "251.405"],
    ["Its standard error", fixed(errorOf(intercepts), 3), fixed(interceptMm.standardError, 3), "6.825"],
    ["Slope a day", fixed(meanOf(slopes), 3), fixed(rateMmPer1000Hours.estimate / 1000, 3), "10.467"],
    [
      "Its standard error",
      fixed(errorOf(slopes), 3),
      fixed(rateMmPer1000Hours.standardError / 1000, 3),
      "1.546",
    ],
  ],
});
for (const slope of [meanOf(slopes), rateMmPer1000Hours.estimate / 1000]) {
  if (Math.abs(slope - 10.467) > 5e-4) throw new Error("not the published slope");
}
for (const error of [errorOf(slopes), rateMmPer1000Hours.standardError / 1000]) {
  if (Math.abs(error - 1.546) > 5e-4) throw new Error("not the published standard error");
}
