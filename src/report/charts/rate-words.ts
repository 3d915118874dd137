/** What a rate chart says: its title, its words, and how to read it. */
import { sentenceCase } from "../group-name.ts";
import { boundedRate, brackets, fixed, listed } from "../number-format.ts";
import type { RateInput } from "./rate-rows.ts";

/** The finding in a title's words. */
export function rateTitle(part: string, { fitted }: RateInput): string {
  const fastest = fitted[0];
  const slowest = fitted.at(-1);
  if (fastest === undefined || slowest === undefined)
    return `${sentenceCase(part)}: no group has a wear rate yet`;
  if (fastest === slowest || fastest.ratio === null || slowest.ratio === null)
    return `${sentenceCase(part)}: ${fastest.group} wears ${fixed(fastest.rate, 2)} mm per 1000 h`;
  const { ratio, ratioLower: lower, ratioUpper: upper } = fastest;
  const bounds =
    lower === null && upper === null
      ? ""
      : ` ${brackets({ estimate: ratio, lower, upper }, (value, rounding) => fixed(value, 1, rounding))}`;
  return `${sentenceCase(part)}: ${fastest.group} wears ${fixed(ratio, 1)} times as fast as ${slowest.group}${bounds}`;
}

/** The picture in words, for whoever can't see it. */
export function rateInWords(part: string, input: RateInput): string {
  const rates = input.fitted.map(
    ({ group, rate, lower, upper }) => `${group} ${boundedRate({ estimate: rate, lower, upper })}`,
  );
  const without = input.unfitted.map((row) => row.group);
  const said = rates.length === 0 ? "no group has a fit" : listed(rates);
  const missing = without.length === 0 ? "" : ` Without a fit: ${listed(without)}.`;
  return `Wear rates of the ${part} in mm per 1000 flight hours, fastest first: ${said}.${missing}`;
}

/** How to read the picture. */
export function rateCaption({ adjusted, fitted }: RateInput): string {
  const marks = "Dot: rate of the group. Line: its bounds.";
  if (fitted.length < 2) return marks;
  if (adjusted) {
    return (
      `${marks} At the right: rate over that of the slowest group, with bounds. One model of all groups: rates are ` +
      "adjusted for each other and for aircraft, and a component that moved counts its hours in each place."
    );
  }
  return (
    `${marks} At the right: rate over that of the slowest group, without bounds; groups flown by other aircraft can ` +
    "differ for other reasons than place and standard."
  );
}
