/** The seal's effect in words, for the trend page and the officer's annex. */
import type { Bounded } from "../interval/month-result.ts";
import type { SealGroup, SealWayFinding } from "../interval/seal-finding.ts";
import type { Crossing } from "../wear/seal-hours.ts";
import { brackets, fixed, share } from "./number-format.ts";

/** A ratio with its bounds, in words. */
export const timesText = (ratio: Bounded | null): string =>
  ratio === null
    ? "–"
    : `${fixed(ratio.estimate, 1)} ${brackets(ratio, (value, rounding) => fixed(value, 1, rounding))}`;

/** Share of the known hours flown out of tolerance, in one way of placing the crossing. */
export const outShare = ({ hoursIn, hoursOut }: SealWayFinding): string =>
  hoursIn + hoursOut > 0 ? share(hoursOut / (hoursIn + hoursOut)) : "–";

/** From the least share of hours out of tolerance to the greatest, over the ways. */
export function outShareRange({ ways }: SealGroup): string {
  const shares = ways.map(outShare);
  const unique = [...new Set(shares)];
  return unique.length === 1 ? unique[0]! : `${shares[2]} to ${shares[1]}`;
}

/** What the ratio allows to be said. */
export function sealSentence({ pessimistic }: SealGroup): string {
  if (pessimistic === null)
    return "no hours of both kinds to compare: what the seal does to the wear is not shown here";
  const { lower, upper } = pessimistic.ratio!;
  if (lower !== null && lower > 1) return "wear is faster with the gap out of tolerance";
  if (upper !== null && upper < 1)
    return "wear is slower with the gap out of tolerance: not what a seal does; look for what else differs";
  return "not told apart from no effect";
}

/** How the moment at which a gap left its tolerance was placed. */
export const WAY_NAMES: Readonly<Record<Crossing, string>> = {
  straight: "on a straight line",
  "at once": "right after it was left",
  "at the end": "just before it was found",
};

/** The scenario: the group's rate with every seal in tolerance. */
export function allInText({ rateAllIn }: SealGroup): string {
  if (rateAllIn === null) return "–";
  return `${fixed(100 * rateAllIn.estimate, 0)} % ${brackets(rateAllIn, (value, rounding) => fixed(100 * value, 0, rounding))} of the rate as flown`;
}
