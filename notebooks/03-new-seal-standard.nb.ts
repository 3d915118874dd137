// %% [markdown]
// # Did the new seal standard help?
//
// The shielded ring came to one place after the other, and to the worst aircraft first. Wear before and after would credit
// the ring with what those aircraft would have shown anyway. So the question is put between components that flew in the
// same environment, and answered twice: from rates of wear, and from lives.

// %% The fleet
import type { GroupEvidence } from "../src/interval/evidence.ts";
import { compareLives } from "../src/life/comparisons.ts";
import { studentQuantile } from "../src/math/distributions.ts";
import { overLimitTable } from "../src/records/event-table.ts";
import { environmentStyles, styleOf } from "../src/report/charts/theme.ts";
import { brackets, fixed, whole } from "../src/report/number-format.ts";
import { componentSums } from "../src/wear/component-sums.ts";
import { fitJointModel } from "../src/wear/joint-model.ts";
import { fitMixedModel } from "../src/wear/mixed-model.ts";
import { type Dot, dotChart } from "./charts.ts";
import { jointTableOf, openFleet, show, truthBeside } from "./kit.ts";

const FLEET = "data-samples/demonstration/fleet.yaml";
const PART = "grip bearing";
const NEW = "shielded";
const OLD = "plain";

const { fleet, groups } = await openFleet(FLEET, PART);
const { confidence } = fleet.acceptable;
const find = (environment: string, standard: string) =>
  groups.find(({ key }) => key.part === PART && key.environment === environment && key.standard === standard);
const pairs = [...new Set(groups.map(({ key }) => key.environment))].flatMap((environment) => {
  const [after, before] = [find(environment, NEW), find(environment, OLD)];
  return after === undefined || before === undefined ? [] : [{ environment, after, before }];
});
show.text(`Environments with both rings: ${pairs.map(({ environment }) => environment).join(", ")}.`);

// %% [markdown]
// ## Rates of wear
//
// Each ring in each environment is fitted by itself with components of one aircraft alike, since a ring that wears a
// quarter as fast also has a quarter of the spread. The bounds of the ratio take the two rates as independent; where the
// same aircraft flew both rings they are alike, and the bounds are then too wide rather than too narrow. Below 1 the new
// ring wears slower.

// %% Ratio of rates
const styles = environmentStyles([...fleet.words.environments.values()]);
const rateOf = (group: GroupEvidence) => {
  const fit = fitJointModel(jointTableOf([group]), { confidence });
  return fit.kind === "fitted"
    ? { kind: "rate" as const, rate: fit.rates[0]!, aircraft: fit.aircraft }
    : { kind: "none" as const, why: fit.why };
};
const rates = pairs.map(({ environment, after, before }) => {
  const [one, other] = [rateOf(after), rateOf(before)];
  if (one.kind === "none") return { environment, why: `${NEW}: ${one.why}`, ratio: null };
  if (other.kind === "none") return { environment, why: `${OLD}: ${other.why}`, ratio: null };
  const relative = ({ rate }: typeof one) => rate.standardError / rate.rateMmPer1000Hours;
  const estimate = one.rate.rateMmPer1000Hours / other.rate.rateMmPer1000Hours;
  const t = studentQuantile(0.5 + confidence / 2, Math.min(one.aircraft, other.aircraft) - 1);
  const factor = Math.exp(t * Math.hypot(relative(one), relative(other)));
  return { environment, why: null, ratio: { estimate, lower: estimate / factor, upper: estimate * factor } };
});
const ratioDots = rates.flatMap(({ environment, ratio }): Dot[] =>
  ratio === null ? [] : [{ name: environment, colour: styleOf(styles, environment).colour, ...ratio }],
);
const shown = ratioDots.filter(({ upper }) => upper < 1);
show.chart(
  dotChart({
    title:
      shown.length === 0
        ? "The new ring is not shown to wear slower anywhere"
        : `The new ring wears slower in: ${shown.map(({ name }) => name).join(", ")}`,
    caption: "Rate with the new ring over that with the old, with bounds. The rule is at 1: no difference.",
    axis: "Rate with the new ring over the old",
    dots: ratioDots,
    decimals: 2,
    at: 1,
  }),
);
const without = rates.flatMap(({ environment, why }) => (why === null ? [] : [`- ${environment}, ${why}`]));
if (without.length > 0) show.text(without.join("\n"));

// %% [markdown]
// ## Lives
//
// The ratio of lives of two Weibull fits of one shape, and the test whether one shape serves. A single ratio holds at
// all hours only if it does.

// %% Ratio of lives
const sentences = pairs.map(({ environment, after, before }) => {
  const compared = compareLives(
    { group: `${environment}, ${NEW}`, table: overLimitTable(after.lives) },
    { group: `${environment}, ${OLD}`, table: overLimitTable(before.lives) },
    confidence,
  );
  return `- ${compared.kind === "fitted" ? compared.sentence : `${environment}: ${compared.why}.`}`;
});
show.text(sentences.join("\n"));

// %% [markdown]
// ## Why not before and after
//
// Of the aircraft of one environment, those that were given the new ring during the records, and those that kept the
// old: rates with the *old* ring only. If the first wore faster, a comparison of before with after on the same aircraft
// credits the ring with their luck turning.

// %% Who got the new ring
const early = pairs.flatMap(({ environment, after, before }) => {
  const changed = new Set(after.lives.map(({ aircraft }) => aircraft));
  const split = (chosen: boolean) => {
    const lives = before.readings.lives.filter(({ aircraft }) => changed.has(aircraft) === chosen);
    const rows = lives.flatMap((life, index) =>
      life.readingHours.map((hours, at) => ({ index, hours, wearMm: life.readingWearMm[at]! })),
    );
    const fit = fitMixedModel(
      componentSums({
        rows: rows.length,
        components: lives.length,
        component: Int32Array.from(rows, ({ index }) => index),
        hours: Float64Array.from(rows, ({ hours }) => hours),
        wearMm: Float64Array.from(rows, ({ wearMm }) => wearMm),
      }),
      confidence,
    );
    return { components: lives.length, fit };
  };
  const [got, kept] = [split(true), split(false)];
  const written = ({ fit }: typeof got) =>
    fit.kind === "fitted"
      ? `${fixed(fit.rateMmPer1000Hours.estimate, 3)} ${brackets(fit.rateMmPer1000Hours, (value, rounding) => fixed(value, 3, rounding))}`
      : "–";
  return [[environment, whole(got.components), written(got), whole(kept.components), written(kept)]];
});
show.table({
  caption: "Rate with the old ring, mm per 1000 h",
  columns: [
    { head: "Environment" },
    { head: "Components, aircraft that changed", numeric: true },
    { head: "Rate of these", numeric: true },
    { head: "Components, aircraft that did not", numeric: true },
    { head: "Rate of those", numeric: true },
  ],
  rows: early,
});

// %% [markdown]
// ## Against the truth
//
// Only an invented fleet has one. Where the new ring went to the worst aircraft, their own effect stays in its rate: the
// ratio then says too little for the ring, never too much.

// %% True ratios
const truth = truthBeside(FLEET)?.parts.find(({ part }) => part === PART) ?? null;
if (truth === null) show.text("These exports are of a real fleet: nobody knows the truth.");
else {
  const median = (environment: string, standard: string) =>
    truth.rates.find((rate) => rate.environment === environment && rate.standard === standard);
  const mean = (rate: { medianMmPer1000h: number; logSd: number }) =>
    rate.medianMmPer1000h * Math.exp(rate.logSd ** 2 / 2);
  show.table({
    caption: "Ratio of mean rates, new ring over old",
    columns: [{ head: "Environment" }, { head: "Estimated", numeric: true }, { head: "True", numeric: true }],
    rows: rates.map(({ environment, ratio }) => {
      const [after, before] = [median(environment, NEW), median(environment, OLD)];
      return [
        environment,
        ratio === null
          ? "–"
          : `${fixed(ratio.estimate, 2)} ${brackets(ratio, (value, rounding) => fixed(value, 2, rounding))}`,
        after === undefined || before === undefined ? "–" : fixed(mean(after) / mean(before), 2),
      ];
    }),
  });
}
