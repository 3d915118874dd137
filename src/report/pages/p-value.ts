/** How a p-value is written: two significant digits, never as nothing. */
import { decimalsFor, fixed } from "../number-format.ts";

/** "0.43", "0.0021", "under 0.0001". */
export function pValue(p: number): string {
  if (p < 0.0001) return "under 0.0001";
  return p > 0.995 ? "1" : fixed(p, decimalsFor(p));
}
