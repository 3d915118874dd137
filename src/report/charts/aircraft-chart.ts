/**
 * Unscheduled removals of one part per aircraft, against the aircraft's own flight hours in each environment: a straight
 * line is a constant rate, one that bends upwards a rate that grows.
 */
import type { RemovalTrend } from "../../interval/removal-findings.ts";
import { counted, fixed, hours, listed, share } from "../number-format.ts";
import { type Chart, type ChartCell, chartId } from "./chart.ts";
import { type LayeredSpec, onScale, type PlotLayer, plot } from "./layers.ts";
import { apart, fitted } from "./text-room.ts";
import { type EnvironmentStyle, label, MARGIN, PANEL, panel, SMALL_PX, styleOf } from "./theme.ts";

/** Most steps drawn of a line; a longer one keeps every so many and its last. */
const MOST_STEPS = 120;
/** Room for the names at the lines' ends; the plot is that much narrower, so that type keeps the size of other panels. */
const RIGHT_PX = 92;
const WIDTH_PX = PANEL.width + MARGIN.right - RIGHT_PX;

export interface AircraftStep {
  readonly hours: number;
  readonly mean: number;
  readonly lower: number;
  readonly upper: number;
}

export interface AircraftLine {
  readonly environment: string;
  readonly style: EnvironmentStyle;
  /** Begins at nothing. */
  readonly steps: readonly AircraftStep[];
}

const START: AircraftStep = { hours: 0, mean: 0, lower: 0, upper: 0 };

/** One line for each aircraft, named. */
export function aircraftLines(
  trends: readonly RemovalTrend[],
  styles: ReadonlyMap<string, EnvironmentStyle>,
): AircraftLine[] {
  return trends.flatMap(({ environment, perAircraft: { points } }) => {
    if (points.length === 0) return [];
    const every = Math.ceil(points.length / MOST_STEPS);
    const steps = points.filter((_, at) => (points.length - 1 - at) % every === 0);
    return [{ environment, style: styleOf(styles, environment), steps: [START, ...steps] }];
  });
}

/** The drawing of the lines. */
export function aircraftSpec(lines: readonly AircraftLine[]): LayeredSpec {
  const steps = lines.flatMap((line) => line.steps);
  const top = 1.15 * steps.reduce((most, step) => Math.max(most, step.mean), 0.1);
  const longest = steps.reduce((most, step) => Math.max(most, step.hours), 1);
  const x = onScale(
    { domain: [0, longest], nice: false },
    { title: "Flight hours of the aircraft there", tickCount: 4, format: "d" },
  );
  const y = onScale(
    { domain: [0, top], nice: false },
    { title: "Unscheduled removals per aircraft", tickCount: 5 },
  );
  const names = apart(
    lines.map(({ environment, style, steps: own }) => ({
      name: fitted(environment, RIGHT_PX - 8, SMALL_PX),
      style,
      y: PANEL.height * (1 - own.at(-1)!.mean / top),
    })),
    14,
    PANEL.height,
  );
  return panel(
    [
      ...lines.flatMap(({ style, steps: own }): PlotLayer[] => [
        plot(
          own,
          { type: "area", clip: true, interpolate: "step-after", fill: style.colour, opacity: 0.1 },
          { x: x("hours"), y: y("lower"), y2: { field: "upper" } },
        ),
        plot(
          own,
          {
            type: "line",
            clip: true,
            interpolate: "step-after",
            stroke: style.colour,
            strokeWidth: 1.6,
            strokeDash: style.dash,
          },
          { x: x("hours"), y: y("mean") },
        ),
      ]),
      ...names.flatMap(({ name, style, y: at }) =>
        label(
          [{ name }],
          { align: "left", baseline: "middle", fill: style.colour, fontWeight: 600 },
          { x: { value: WIDTH_PX + 6 }, y: { value: at }, text: { field: "name" } },
        ),
      ),
    ],
    { width: WIDTH_PX, margin: { right: RIGHT_PX } },
  );
}

/** Removals per aircraft by some hours: the last step until then. */
const meanBy = ({ steps }: AircraftLine, atHours: number): number =>
  steps.findLast((step) => step.hours <= atHours)?.mean ?? 0;

/** One chart for all environments of a part; null where no removal could be placed on an aircraft's hours. */
export function aircraftChart(
  part: string,
  trends: readonly RemovalTrend[],
  styles: ReadonlyMap<string, EnvironmentStyle>,
  confidence: number,
): Chart | null {
  const lines = aircraftLines(trends, styles);
  if (lines.length === 0) return null;
  const atHours = Math.floor(Math.min(...lines.map(({ steps }) => steps.at(-1)!.hours)));
  const worst = [...lines].sort((a, b) => meanBy(b, atHours) - meanBy(a, atHours));
  const said = worst.map((line) => `${line.environment} ${fixed(meanBy(line, atHours), 1)}`);
  const leftOut = trends.reduce((sum, { perAircraft }) => sum + perAircraft.leftOut, 0);
  const left =
    leftOut === 0
      ? ""
      : ` ${counted(leftOut, "removal")} without an aircraft that flew there that month ${leftOut === 1 ? "is" : "are"} left out.`;
  return {
    id: chartId("per-aircraft", part),
    title: `Removals per aircraft by ${hours(atHours)} of flying: ${said.join(", ")}`,
    spec: aircraftSpec(lines),
    alt: `Mean cumulative unscheduled removals of the ${part} per aircraft against its flight hours in each environment. By ${hours(atHours)}: ${listed(said)}.`,
    caption: `Mean cumulative function; a line that bends upwards is a rate that grows. Bands: bounds at ${share(confidence)} confidence from the spread between aircraft.${left}`,
    columns: [
      { head: "Environment", name: "environment" },
      { head: "Hours", name: "hours", decimals: 0 },
      { head: "Removals per aircraft", name: "removals_per_aircraft", decimals: 2 },
      { head: "Lower", name: "lower", decimals: 2, rounding: "down" },
      { head: "Upper", name: "upper", decimals: 2, rounding: "up" },
    ],
    rows: lines.flatMap(({ environment, steps }) =>
      steps.slice(1).map((step): ChartCell[] => [environment, step.hours, step.mean, step.lower, step.upper]),
    ),
  };
}
