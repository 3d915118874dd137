// %% [markdown]
// # How does the recommended interval move with risk, limit and data?
//
// An interval is demonstrated when each risk's upper bound, at it and at every shorter one, is at most what is acceptable.
// So the answer hangs on four things: what is acceptable, how sure one must be, the limit, and how much has been seen.
// This notebook moves one at a time and leaves the rest as the fleet file has it. It weighs the risks alone: evidence
// rules, reviews and the largest change in one step come on top of them in the report.

// %% The fleet
import type { Acceptable, Part } from "../src/fleet/fleet.ts";
import type { GroupEvidence } from "../src/interval/evidence.ts";
import type { Bounded } from "../src/interval/month-result.ts";
import { risksOnGrid, weighed, worse } from "../src/interval/risks.ts";
import { fixed, hours, percent, whole } from "../src/report/number-format.ts";
import { lineChart } from "./charts.ts";
import { evidenceOf, livesOf, nameOf, openFleet, presentIntervalOf, show } from "./kit.ts";

const FLEET = "data-samples/demonstration/fleet.yaml";
const PART = "grip bearing";
const TASK = "grip bearing wear check";
const ENVIRONMENT = "temperate";
const STANDARD = "shielded";
/** Hours tried. */
const GRID = Array.from({ length: 30 }, (_, step) => 50 * (step + 1));

const opened = await openFleet(FLEET, PART);
const { fleet, lives, groups, asOf } = opened;
const task = fleet.tasks.find((one) => one.task === TASK);
if (task === undefined) throw new Error(`the fleet file has no task ${TASK}`);
const isGroup = ({ key }: Pick<GroupEvidence, "key">) =>
  key.part === task.part && key.environment === ENVIRONMENT && key.standard === STANDARD;
const group = groups.find(isGroup);
if (group === undefined) throw new Error(`no group ${ENVIRONMENT}, ${STANDARD} in these exports`);
const present = presentIntervalOf(fleet, group.key, asOf)!;
show.text(
  `${nameOf(group.key)}: ${whole(group.lives.length)} lives of ${whole(new Set(group.lives.map(({ aircraft }) => aircraft)).size)} aircraft. Looked at every ${hours(present)} now. Acceptable: ${percent(fleet.acceptable.overLimitPerInspection)} % over the limit per inspection, ${fixed(fleet.acceptable.unsafeBeforeSeen, 4)} unsafe before it is seen, at a confidence of ${percent(fleet.acceptable.confidence)} %.`,
);

// %% The longest interval, as a function of all four
interface Asked {
  readonly evidence: GroupEvidence;
  readonly part: Part;
  readonly acceptable: Acceptable;
}

/** Longest hours of the grid that hold, every shorter ones too; 0 where the first does not. */
function longest({ evidence, part, acceptable }: Asked, side: "estimate" | "upper"): number {
  const { counted } = evidence.linesAt(acceptable.confidence).risks;
  let answer = 0;
  for (const intervalH of GRID) {
    const [at] = weighed(risksOnGrid([intervalH], task!.tolerance, counted), acceptable, part);
    const holds = at!.risks.every(
      ({ value, acceptable: most }) =>
        value !== null && (value[side] ?? Number.POSITIVE_INFINITY) <= most * (1 + 1e-9),
    );
    if (!holds) break;
    answer = intervalH;
  }
  return answer;
}

/** Of the two methods the worse, at the present interval. */
function overLimitNow(evidence: GroupEvidence, confidence: number): Bounded | null {
  const [at] = risksOnGrid([present], task!.tolerance, evidence.linesAt(confidence).risks.counted);
  return worse(at!.overLimitPerInspection.life, at!.overLimitPerInspection.wear);
}

const asked: Asked = { evidence: group, part: group.part, acceptable: fleet.acceptable };
/** "400 h at 1 % …, 550 h at 30 % …" */
function inOneLine(points: readonly { x: number; y: number }[], words: (x: number) => string): string {
  const [first, last] = [points[0]!, points.at(-1)!];
  return `${hours(first.y)} demonstrated at ${words(first.x)}, ${hours(last.y)} at ${words(last.x)}`;
}

show.text(
  `As the fleet file has it, ${hours(longest(asked, "upper"))} are demonstrated; by the best estimate ${hours(longest(asked, "estimate"))} would hold. The grid ends at ${hours(GRID.at(-1)!)}.`,
);

// %% [markdown]
// ## What is acceptable
//
// Each risk by itself, the other left as it is. Where the line stays flat, the other risk decides.

// %% Over the limit per inspection
const both = (points: readonly number[], at: (value: number) => Asked, name: string) => [
  { name: "by estimate", dash: [7, 3], points: points.map((x) => ({ x, y: longest(at(x), "estimate") })) },
  { name, colour: "var(--accent, #46309a)", points: points.map((x) => ({ x, y: longest(at(x), "upper") })) },
];
const accepted = [0.01, 0.02, 0.03, 0.05, 0.07, 0.1, 0.15, 0.2, 0.3];
const overLimit = both(
  accepted,
  (overLimitPerInspection) => ({ ...asked, acceptable: { ...fleet.acceptable, overLimitPerInspection } }),
  "demonstrated",
);
show.chart(
  lineChart({
    title: inOneLine(overLimit[1]!.points, (share) => `${percent(share)} % over the limit accepted`),
    caption: "Longest interval against the acceptable share of looks that find a component over the limit.",
    xAxis: "Acceptable over the limit per inspection",
    yAxis: "Longest interval (h)",
    lines: overLimit,
    decimals: { x: 2, y: 0 },
  }),
);

// %% Unsafe before it is seen
const unsafe = both(
  [0.0002, 0.0005, 0.001, 0.002, 0.005, 0.01, 0.02, 0.05],
  (unsafeBeforeSeen) => ({ ...asked, acceptable: { ...fleet.acceptable, unsafeBeforeSeen } }),
  "demonstrated",
);
show.chart(
  lineChart({
    title: inOneLine(unsafe[1]!.points, (share) => `${percent(share)} % unsafe accepted`),
    caption:
      "Longest interval against the acceptable chance that a component that reaches the replace-at limit is unsafe before a look sees it. Each look in between counts once, so the risk rises in steps of a tenfold.",
    xAxis: "Acceptable unsafe before it is seen (log axis)",
    yAxis: "Longest interval (h)",
    lines: unsafe,
    decimals: { x: 4, y: 0 },
    xLog: true,
  }),
);

// %% [markdown]
// ## How sure one must be

// %% Confidence
show.table({
  caption: `One-sided bounds by their confidence, over the limit per inspection at ${hours(present)}`,
  columns: ["Confidence, %", "Estimate, %", "Upper bound, %", "Demonstrated, h"].map((head, at) => ({
    head,
    numeric: at > 0,
  })),
  compact: true,
  rows: [0.8, 0.9, 0.95, 0.99].map((confidence) => {
    const now = overLimitNow(group, confidence);
    return [
      percent(confidence),
      now === null ? "–" : percent(now.estimate),
      now === null || now.upper === null ? "–" : percent(now.upper),
      whole(longest({ ...asked, acceptable: { ...fleet.acceptable, confidence } }, "upper")),
    ];
  }),
});

// %% [markdown]
// ## The limit
//
// Another replace-at limit makes other lives: what counts as over the limit changes, and so does the margin to the
// unsafe-at limit. A tighter limit takes parts off earlier and leaves more looks before one is unsafe.

// %% Replace-at limit
const limits = [group.part.replaceAtMm - 0.1, group.part.replaceAtMm, group.part.replaceAtMm + 0.1];
show.table({
  caption: "Longest interval by replace-at limit, the unsafe-at limit as it is",
  columns: ["Replace at, mm", "Events", "Demonstrated, h", "By estimate, h"].map((head, at) => ({
    head,
    numeric: at > 0,
  })),
  compact: true,
  rows: limits.map((replaceAtMm) => {
    const parts = fleet.parts.map((part) => (part.part === task.part ? { ...part, replaceAtMm } : part));
    const changed = { ...fleet, parts };
    const own = livesOf({ ...opened, fleet: changed }, PART).filter(({ group: key }) => isGroup({ key }));
    const [evidence] = evidenceOf(changed, own);
    const part = parts.find(({ part: name }) => name === task.part)!;
    const at = { ...asked, evidence: evidence!, part };
    const events = own.filter(({ upperHours }) => upperHours !== Number.POSITIVE_INFINITY).length;
    return [
      fixed(replaceAtMm, 2),
      whole(events),
      whole(longest(at, "upper")),
      whole(longest(at, "estimate")),
    ];
  }),
});

// %% [markdown]
// ## How much was seen
//
// The same group, had it been flown by fewer aircraft: the first so many by name. The estimate wanders with the aircraft
// that happen to be in; the gap between bound and estimate is what more data buys.

// %% Aircraft
const tails = [...new Set(group.lives.map(({ aircraft }) => aircraft))].sort();
const counts = [...new Set([4, 12, tails.length])].filter((count) => count <= tails.length);
const fewer = counts.map((count) => {
  const chosen = new Set(tails.slice(0, count));
  const own = lives.filter((life) => isGroup({ key: life.group }) && chosen.has(life.aircraft));
  const [evidence] = evidenceOf(fleet, own);
  return {
    count,
    lives: own.length,
    now: overLimitNow(evidence!, fleet.acceptable.confidence),
    bound: longest({ ...asked, evidence: evidence! }, "upper"),
  };
});
show.table({
  caption: `Over the limit per inspection at ${hours(present)}, by aircraft counted`,
  columns: ["Aircraft", "Lives", "Estimate, %", "Upper bound, %", "Demonstrated, h"].map((head, at) => ({
    head,
    numeric: at > 0,
  })),
  compact: true,
  rows: fewer.map(({ count, lives: own, now, bound }) => [
    whole(count),
    whole(own),
    now === null ? "–" : percent(now.estimate),
    now === null || now.upper === null ? "–" : percent(now.upper),
    whole(bound),
  ]),
});
