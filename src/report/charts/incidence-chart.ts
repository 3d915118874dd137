/** What a group's components came off for: the chance of each failure mode by some hours, the others competing. */
import type { GroupModes } from "../../interval/life-findings.ts";
import type { GroupResult } from "../../interval/month-result.ts";
import { boundedShare, counted, hours, listed, share } from "../number-format.ts";
import { type Chart, type ChartCell, chartId } from "./chart.ts";
import { type LayeredSpec, onScale, type PlotLayer, plot } from "./layers.ts";
import { apart, fitted } from "./text-room.ts";
import { type EnvironmentStyle, INK, label, MARGIN, PANEL, panel, QUIET, SMALL_PX } from "./theme.ts";

type Mode = GroupModes["modes"][number];

/** Lines that can still be told apart; the commonest modes are drawn, the table has all. */
const MOST_LINES = 4;
/** Room for the names at the lines' ends. */
const RIGHT_PX = 106;
const WIDTH_PX = PANEL.width + MARGIN.right - RIGHT_PX;

/** Where a line stands from some hours on; where it has no bounds the band has no width. */
interface Step {
  readonly hours: number;
  readonly percent: number;
  readonly low: number;
  readonly high: number;
}

interface ModeLine {
  readonly mode: string;
  readonly colour: string;
  readonly dash: number[];
  readonly steps: readonly Step[];
}

/** The commonest modes, each from nothing at the start to the hours at which the chances are stated. */
function modeLines({ modes, atHours, givenHours }: GroupModes, style: EnvironmentStyle): ModeLine[] {
  const looks = [
    { colour: style.colour, dash: [1, 0] },
    { colour: INK, dash: [6, 3] },
    { colour: QUIET, dash: [2, 2.5] },
    { colour: INK, dash: [9, 3, 2, 3] },
  ];
  return drawnOf(modes).map(({ mode, curve }, at) => {
    const start: Step = { hours: givenHours, percent: 0, low: 0, high: 0 };
    const steps = curve.map(
      (point): Step => ({
        hours: point.hours,
        percent: 100 * point.chance,
        low: 100 * (point.lower ?? point.chance),
        high: 100 * (point.upper ?? point.chance),
      }),
    );
    return { mode, ...looks[at]!, steps: [start, ...steps, { ...steps.at(-1)!, hours: atHours }] };
  });
}

const drawnOf = (modes: readonly Mode[]): Mode[] =>
  modes
    .filter(({ curve }) => curve.length > 0)
    .toSorted((a, b) => b.chance.estimate - a.chance.estimate)
    .slice(0, MOST_LINES);

/** The drawing of the lines, names at their ends. */
function incidenceSpec(lines: readonly ModeLine[], fromHours: number, toHours: number): LayeredSpec {
  const top = 1.1 * lines.flatMap(({ steps }) => steps).reduce((most, { high }) => Math.max(most, high), 1);
  const x = onScale(
    { domain: [fromHours, toHours], nice: false },
    { title: "Hours", tickCount: 4, format: "d" },
  );
  const y = onScale(
    { domain: [0, top], nice: false },
    { title: "Found so by these hours (%)", tickCount: 5 },
  );
  const names = apart(
    lines.map(({ mode, colour, steps }) => ({
      name: fitted(mode, RIGHT_PX - 8, SMALL_PX),
      colour,
      y: PANEL.height * (1 - steps.at(-1)!.percent / top),
    })),
    14,
    PANEL.height - 4,
  );
  return panel(
    [
      ...lines.flatMap(({ colour, dash, steps }): PlotLayer[] => [
        plot(
          steps,
          { type: "area", interpolate: "step-after", fill: colour, opacity: 0.12 },
          { x: x("hours"), y: y("low"), y2: { field: "high" } },
        ),
        plot(
          steps,
          { type: "line", interpolate: "step-after", stroke: colour, strokeWidth: 1.6, strokeDash: dash },
          { x: x("hours"), y: y("percent") },
        ),
      ]),
      ...names.flatMap(({ name, colour, y: at }) =>
        label(
          [{ name }],
          { align: "left", baseline: "middle", fill: colour, fontWeight: 600 },
          { x: { value: WIDTH_PX + 6 }, y: { value: at }, text: { field: "name" } },
        ),
      ),
    ],
    { width: WIDTH_PX, margin: { right: RIGHT_PX } },
  );
}

/** The chart of one group; null where nothing came off for a cause by the hours at which chances are stated. */
export function incidenceChart(
  group: GroupResult,
  style: EnvironmentStyle,
  confidence: number,
): Chart | null {
  const { modes, atHours, givenHours } = group.modes;
  const lines = modeLines(group.modes, style);
  if (lines.length === 0) return null;
  const drawn = drawnOf(modes);
  const said = drawn.map(({ mode, chance }) => `${mode} ${boundedShare(chance)}`);
  const more = modes.length - drawn.length;
  const rest =
    more === 0 ? "" : ` ${counted(more, "rarer mode")} ${more === 1 ? "is" : "are"} in the table only.`;
  return {
    id: chartId("modes", group.slug),
    title: `By ${hours(atHours)}: ${listed(said.slice(0, 2))}`,
    spec: incidenceSpec(lines, givenHours, atHours),
    alt: `Chance of each failure mode against hours, the others competing. By ${hours(atHours)}: ${listed(said)}.`,
    caption: `Bands: pointwise bounds at ${share(confidence)} confidence, components taken as independent of each other.${rest}`,
    columns: [
      { head: "Mode", name: "mode" },
      { head: "Hours", name: "hours", decimals: 0 },
      { head: "Found (%)", name: "found_percent", decimals: 1 },
      { head: "Lower (%)", name: "lower_percent", decimals: 1, rounding: "down" },
      { head: "Upper (%)", name: "upper_percent", decimals: 1, rounding: "up" },
    ],
    rows: drawn.flatMap(({ mode, curve }) =>
      curve.map((point): ChartCell[] => [
        mode,
        point.hours,
        100 * point.chance,
        point.lower === null ? null : 100 * point.lower,
        point.upper === null ? null : 100 * point.upper,
      ]),
    ),
  };
}
