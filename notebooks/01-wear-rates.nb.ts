// %% [markdown]
// # How fast does each environment wear, and how sure are we?
//
// Each component is a line: wear against hours, with its own start and its own rate. A group's rate is the mean of its
// components' rates. How sure we are of it depends on how many components there are, hardly on how often each was read,
// and on whether components of one aircraft are alike.

// %% The fleet
import { environmentStyles, styleOf } from "../src/report/charts/theme.ts";
import { boundedRate, fixed, whole } from "../src/report/number-format.ts";
import { componentSums } from "../src/wear/component-sums.ts";
import { fitJointModel } from "../src/wear/joint-model.ts";
import { fitMixedModel } from "../src/wear/mixed-model.ts";
import { dotChart } from "./charts.ts";
import { jointTableOf, nameOf, openFleet, show, truthBeside } from "./kit.ts";

const FLEET = "data-samples/demonstration/fleet.yaml";
const PART = "grip bearing";

const { fleet, groups } = await openFleet(FLEET, PART);
const { confidence } = fleet.acceptable;
show.text(
  `${fleet.name}: ${whole(groups.length)} groups of the ${PART}, bounds at ${fixed(100 * confidence, 0)} %, two-sided.`,
);

// %% [markdown]
// ## Each group by itself
//
// Random intercept and slope by component, by restricted maximum likelihood (Laird and Ware 1982). The spread is that of
// the components' true rates; the scatter is that of a reading about its own component's line.

// %% One fit a group
const fits = groups.map((group) => ({
  group,
  fit: fitMixedModel(componentSums(group.readings.table), confidence),
}));
const fitted = fits.flatMap(({ group, fit }) => (fit.kind === "fitted" ? [{ group, fit }] : []));
fitted.sort((a, b) => b.fit.rateMmPer1000Hours.estimate - a.fit.rateMmPer1000Hours.estimate);
show.table({
  caption: `Wear of the ${PART}, fastest group first`,
  columns: [
    { head: "Environment, standard" },
    { head: "Components", numeric: true },
    { head: "Readings", numeric: true },
    { head: "Rate, mm per 1000 h", numeric: true },
    { head: "Spread of rates", numeric: true },
    { head: "Scatter, mm", numeric: true },
  ],
  rows: fitted.map(({ group, fit }) => [
    nameOf(group.key),
    whole(fit.components),
    whole(fit.readings),
    boundedRate(fit.rateMmPer1000Hours),
    fixed(fit.componentSd.rateMmPer1000Hours, 3),
    fixed(fit.measurementSdMm, 4),
  ]),
});
const unfitted = fits.flatMap(({ group, fit }) =>
  fit.kind === "fitted" ? [] : [`- ${nameOf(group.key)}: ${fit.why}`],
);
if (unfitted.length > 0) show.text(unfitted.join("\n"));

// %% [markdown]
// ## With aircraft
//
// Components of one aircraft fly the same hours with the same mechanics, so they are alike, and 40 components of 10
// aircraft say less than 40 of 40. Here each aircraft has an effect of its own, and each bound is the wider of the model's
// and that with whole aircraft as clusters. Each group is fitted by itself: where rates differ tenfold their spreads do
// too, and one spread for all would lend the slow groups the fast ones' uncertainty.

// %% Fits with an aircraft effect
const withAircraft = fitted.flatMap(({ group, fit }) => {
  const joint = fitJointModel(jointTableOf([group]), { confidence });
  return joint.kind === "fitted" ? [{ group, fit, rate: joint.rates[0]!, aircraft: joint.aircraft }] : [];
});
const styles = environmentStyles([...fleet.words.environments.values()]);
const dots = withAircraft.map(({ group, rate }) => ({
  name: nameOf(group.key),
  colour: styleOf(styles, group.key.environment).colour,
  estimate: rate.rateMmPer1000Hours,
  lower: Math.max(0, rate.lower),
  upper: rate.upper,
}));
const fastest = dots[0];
const slowest = dots.at(-1);
if (fastest !== undefined && slowest !== undefined) {
  show.chart(
    dotChart({
      title: `${fastest.name}: ${fixed(fastest.estimate / slowest.estimate, 1)} times as fast as ${slowest.name}`,
      caption:
        "Dot: rate. Line: bounds, components of one aircraft taken as alike. Components that moved count up to their first move.",
      axis: "Rate (mm per 1000 h)",
      dots,
      decimals: 3,
    }),
  );
}
show.table({
  caption: "Standard errors of the rates, mm per 1000 h",
  columns: [
    { head: "Environment, standard" },
    { head: "Aircraft", numeric: true },
    { head: "As if all components were strangers", numeric: true },
    { head: "Components of one aircraft alike", numeric: true },
    { head: "Times", numeric: true },
  ],
  rows: withAircraft.map(({ group, fit, rate, aircraft }) => {
    const alone = fit.rateMmPer1000Hours.standardError;
    return [
      nameOf(group.key),
      whole(aircraft),
      fixed(alone, 4),
      fixed(rate.standardError, 4),
      fixed(rate.standardError / alone, 1),
    ];
  }),
});

// %% [markdown]
// ## Against the truth
//
// Only an invented fleet has one. Its rates are lognormal, and a mean of such is a little over its median. What is compared
// is not quite like with like where components were already old when the records began: the fastest of them were
// gone by then, which is why no decision rests on these rates without that being put right (see the method page). Nor where
// a new ring went to the worst aircraft first: their own effect stays with them.

// %% Estimated and true
const truth = truthBeside(FLEET)?.parts.find(({ part }) => part === PART) ?? null;
if (truth === null) show.text("These exports are of a real fleet: nobody knows the truth.");
else {
  show.table({
    caption: "Rates as estimated by group, and as the simulator set them, mm per 1000 h",
    columns: [
      { head: "Environment, standard" },
      { head: "Estimated mean", numeric: true },
      { head: "True mean", numeric: true },
      { head: "Entered late", numeric: true },
    ],
    rows: fitted.flatMap(({ group, fit }) => {
      const { environment, standard } = group.key;
      const own = truth.rates.find((rate) => rate.environment === environment && rate.standard === standard);
      if (own === undefined) return [];
      const late = group.readings.entryHours.reduce((sum, hours) => sum + (hours > 0 ? 1 : 0), 0);
      return [
        [
          nameOf(group.key),
          boundedRate(fit.rateMmPer1000Hours),
          fixed(own.medianMmPer1000h * Math.exp(own.logSd ** 2 / 2), 3),
          `${whole(late)} of ${whole(group.readings.lives.length)}`,
        ],
      ];
    }),
  });
}
