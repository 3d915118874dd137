/**
 * Weibull axes: share over the limit upward as ln(−ln(1 − share)), hours along a log scale. On them a Weibull life is a
 * straight line whose slope is its shape.
 */
import { power } from "../../math/power.ts";
import type { AxisChoice, ScaleChoice } from "./layers.ts";

/** Height of a share over the limit on the Weibull axis; null at 0 and 1, which lie at infinity. */
export const weibullHeight = (shareOver: number): number | null =>
  shareOver > 0 && shareOver < 1 ? Math.log(-Math.log1p(-shareOver)) : null;

const TICK_SHARES = [0.005, 0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 0.8, 0.95, 0.99] as const;
const LOWEST_SHARE = 0.004;
const HIGHEST_SHARE = 0.993;

const height = (shareOver: number): number => Math.log(-Math.log1p(-shareOver));

export const SHARE_SCALE: ScaleChoice = {
  domain: [height(LOWEST_SHARE), height(HIGHEST_SHARE)],
  nice: false,
  zero: false,
};

export const SHARE_AXIS: AxisChoice = {
  title: "Over the limit (% of components, Weibull scale)",
  values: TICK_SHARES.map(height),
  labelExpr: "format(100 * (1 - exp(-exp(datum.value))), '.2~g')",
};

const TICK_HOURS = [1, 2, 3, 5] as const;

/** A log axis of hours over what was seen; ticks at 1, 2, 3 and 5 times powers of ten. */
export function logHours(lowest: number, highest: number): { scale: ScaleChoice; axis: AxisChoice } {
  const values: number[] = [];
  for (let decade = Math.floor(Math.log10(lowest)); decade <= Math.log10(highest); decade += 1) {
    values.push(
      ...TICK_HOURS.map((step) => step * power(10, decade)).filter((at) => at >= lowest && at <= highest),
    );
  }
  return {
    scale: { domain: [lowest, highest], type: "log", nice: false },
    axis: { title: "Flight hours (log scale)", values, format: "d" },
  };
}
