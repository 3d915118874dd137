/** The log axis of risks: where it begins and its ticks. */
import { power } from "../../math/power.ts";
import type { AxisChoice } from "./layers.ts";

const DECADES_BELOW = 2;

/**
 * Two decades below the acceptable level, whatever the risks are: charts of one risk then share their axis. A line that
 * lies wholly lower is named as such.
 */
export const riskFloor = (acceptable: number): number =>
  power(10, Math.floor(Math.log10(acceptable) + 1e-9) - DECADES_BELOW);

/** Ticks at powers of ten from the floor to 1, written in percent. */
export function percentAxis(floor: number): Pick<AxisChoice, "values" | "labelExpr"> {
  const decades = Math.round(-Math.log10(floor));
  const values = Array.from({ length: decades + 1 }, (_, step) => power(10, -(decades - step)));
  return { values, labelExpr: "format(100 * datum.value, '.3~g') + ' %'" };
}
