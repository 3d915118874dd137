/** The log axis of risks: where it begins and its ticks. */
import type { AxisChoice } from "./layers.ts";
import type { RiskLine } from "./risk-chart.ts";

/** Decades below the acceptable level that are drawn at most: lower risks all say "far below". */
const MOST_DECADES_BELOW = 3;

/** A power of ten below the acceptable level and below the smallest risk, within reason. */
export function riskFloor(lines: readonly RiskLine[], acceptable: number): number {
  const smallest = lines
    .flatMap((line) => line.points.map((point) => point.estimate))
    .reduce((least, value) => (value > 0 ? Math.min(least, value) : least), acceptable / 10);
  const power = Math.floor(Math.log10(smallest) + 1e-9);
  return 10 ** Math.max(power, Math.floor(Math.log10(acceptable)) - MOST_DECADES_BELOW);
}

/** Ticks at powers of ten from the floor to 1, written in percent. */
export function percentAxis(floor: number): Pick<AxisChoice, "values" | "labelExpr"> {
  const decades = Math.round(-Math.log10(floor));
  const values = Array.from({ length: decades + 1 }, (_, step) => 10 ** -(decades - step));
  return { values, labelExpr: "format(100 * datum.value, '.3~g') + ' %'" };
}
