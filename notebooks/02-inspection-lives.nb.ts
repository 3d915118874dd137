// %% [markdown]
// # What do inspection data really say about life, and what would the naive reading have said?
//
// Nobody sees a bearing pass its limit. A look finds it below, a later look finds it over, and it happened somewhere
// between. A bearing never found over has shown that it lasted to its last look, and nothing after. One that was old when
// the records began is in them only because it lasted so long. Each of these has a shortcut, and each shortcut an error
// with a known direction.

// %% The fleet
import { groupLife } from "../src/interval/group-life.ts";
import { twoSidedDrop } from "../src/life/likelihood-drop.ts";
import { naiveViews } from "../src/life/naive.ts";
import { lifeAt, lifeBounds } from "../src/life/profile-bounds.ts";
import { fitWeibull } from "../src/life/weibull-fit.ts";
import { overLimitTable } from "../src/records/event-table.ts";
import { lifeKind } from "../src/records/life-table.ts";
import { brackets, fixed, hours, percent, whole } from "../src/report/number-format.ts";
import { lineChart } from "./charts.ts";
import { nameOf, openFleet, show } from "./kit.ts";

const FLEET = "data-samples/demonstration/fleet.yaml";
const PART = "grip bearing";
const EXAMPLE = { environment: "sandy", standard: "plain" };

const { fleet, groups } = await openFleet(FLEET, PART);
const { confidence } = fleet.acceptable;
const drop = twoSidedDrop(confidence);
const tables = groups.map(({ key, lives }) => ({
  key,
  lives,
  table: overLimitTable(lives),
  // Hours flown to removal or to the end of the records: known, but nobody looked.
  flown: Float64Array.from(lives, ({ lastHours }) => lastHours),
}));

// %% [markdown]
// ## What was seen
//
// An interval holds the event between two looks; a running life ends at its last good look.

// %% Lives by kind
show.table({
  caption: `Lives of the ${PART}, over the limit as the event`,
  columns: [
    { head: "Environment, standard" },
    ...["Lives", "Interval", "Before first look", "Running", "Entered late"].map((head) => ({
      head,
      numeric: true,
    })),
  ],
  rows: tables.map(({ key, table }) => {
    const kinds = Array.from({ length: table.rows }, (_, row) => lifeKind(table, row));
    const count = (kind: string) => whole(kinds.filter((one) => one === kind).length);
    const late = table.entryHours.reduce((sum, entry) => sum + (entry > 0 ? 1 : 0), 0);
    return [nameOf(key), whole(table.rows), count("interval"), count("left"), count("running"), whole(late)];
  }),
});

// %% [markdown]
// ## What the lives say
//
// Weibull by maximum likelihood, each life as what it is. The hours by which 10 % are over the limit, with
// likelihood-ratio bounds.

// %% Lives at 10 %
const fits = tables.map((one) => ({ ...one, fit: fitWeibull(one.table) }));
show.table({
  caption: `Hours by which 10 % are over the limit; bounds two-sided at ${percent(confidence)} %`,
  columns: [
    { head: "Environment, standard" },
    { head: "Events", numeric: true },
    { head: "Shape", numeric: true },
    { head: "10 % life", numeric: true },
  ],
  rows: fits.map(({ key, fit }) => {
    if (fit.kind === "none") return [nameOf(key), whole(fit.events), "–", fit.why];
    const estimate = lifeAt(fit, 0.1);
    const bounds = lifeBounds(fit, 0.1, drop);
    return [
      nameOf(key),
      whole(fit.events),
      fixed(fit.shape, 2),
      `${hours(estimate)} ${brackets({ estimate, lower: bounds.lower, upper: bounds.upper }, whole)}`,
    ];
  }),
});

// %% [markdown]
// ## What the shortcuts would have said
//
// The same lives, fitted as inspection data often are. A ratio above 1 is a life too long: the dangerous side.

// %% Naive over proper
const views = fits.flatMap(({ key, table, flown, fit }) =>
  fit.kind === "none" ? [] : [{ key, views: naiveViews(table, { hoursFlown: flown }) }],
);
const shortcuts = [
  "midpoints as exact",
  "found at as failed at",
  "late entry ignored",
  "hours after the last look counted",
] as const;
show.table({
  caption: "10 % life by the shortcut, over that of the lives as they are",
  columns: [{ head: "Environment, standard" }, ...shortcuts.map((head) => ({ head, numeric: true }))],
  rows: views.map(({ key, views: own }) => [
    nameOf(key),
    ...shortcuts.map((name) => {
      const ratio = own.find((view) => view.name === name)?.lifeRatio ?? null;
      return ratio === null ? "–" : fixed(ratio, 2);
    }),
  ]),
});

// %% In words
const example = tables.find(
  ({ key }) => key.environment === EXAMPLE.environment && key.standard === EXAMPLE.standard,
);
if (example === undefined)
  throw new Error(`no group ${EXAMPLE.environment}, ${EXAMPLE.standard} in these exports`);
const said = naiveViews(example.table, { hoursFlown: example.flown });
show.text(`In ${nameOf(example.key)}:\n\n${said.map(({ sentence }) => `- ${sentence}`).join("\n")}`);

// %% [markdown]
// ## Beside the fit, the curve that assumes no shape
//
// Turnbull's estimate (1976) with late entry, and the fitted line. Where they part, the line is not the lives'.

// %% Curve and fit
const life = groupLife(example.table, confidence);
const failed = fitWeibull(example.table);
const found = said.find(({ name }) => name === "found at as failed at")?.fit;
const upTo = life.survival.at(-1)?.hours ?? 0;
const along = life.curve.filter((point) => point.hours <= upTo);
show.chart(
  lineChart({
    title: `${nameOf(example.key)}: ${failed.kind === "fitted" ? `10 % over the limit by ${whole(lifeAt(failed, 0.1))} h` : "no fit"}`,
    caption:
      "Share over the limit against hours. Steps: no shape assumed. Lines: Weibull of the lives as they are, and of the hours at which events were found.",
    xAxis: "Hours since new",
    yAxis: "Share over the limit",
    lines: [
      { name: "observed", points: life.survival.map(({ hours: x, survival }) => ({ x, y: 1 - survival })) },
      ...(found?.kind === "fitted"
        ? [
            {
              name: "found at",
              interpolate: "linear" as const,
              colour: "var(--env-1, #945400)",
              dash: [7, 3],
              points: along.map(({ hours: x }) => ({
                x,
                y: 1 - Math.exp(-((x / found.scaleHours) ** found.shape)),
              })),
            },
          ]
        : []),
      {
        name: "as they are",
        interpolate: "linear" as const,
        colour: "var(--env-2, #005f92)",
        points: along.map(({ hours: x, survival }) => ({ x, y: 1 - survival })),
      },
    ],
    decimals: { x: 0, y: 3 },
  }),
);
