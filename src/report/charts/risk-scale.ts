/** The log axis of risks: where it begins, its ticks, and names at line ends that don't run into each other. */
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

/** Labels moved apart so that neighbours are at least `gapPx` from each other, none below `lowestPx`. */
export function apart<Label extends { readonly y: number }>(
  labels: readonly Label[],
  gapPx: number,
  lowestPx: number,
): Label[] {
  const sorted = [...labels].sort((a, b) => a.y - b.y);
  let previous = Number.NEGATIVE_INFINITY;
  const down = sorted.map((one) => {
    previous = Math.max(one.y, previous + gapPx);
    return { ...one, y: previous };
  });
  let next = lowestPx + gapPx;
  return down
    .reverse()
    .map((one) => {
      next = Math.min(one.y, next - gapPx);
      return { ...one, y: next };
    })
    .reverse();
}
