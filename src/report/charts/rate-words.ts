/** What a rate chart says: its title, its words, and how to read it. */
import type { GroupResult } from "../../interval/month-result.ts";
import { sentenceCase } from "../group-name.ts";
import { boundedRate, fixed, listed } from "../number-format.ts";
import type { RateInput } from "./rate-chart.ts";

export function rateTitle(part: string, { fitted }: RateInput): string {
  const fastest = fitted[0];
  const slowest = fitted.at(-1);
  if (fastest === undefined || slowest === undefined)
    return `${sentenceCase(part)}: no group has a wear rate yet`;
  if (fastest === slowest || fastest.ratio === null || slowest.ratio === null)
    return `${sentenceCase(part)}: ${fastest.group} wears ${fixed(fastest.rate, 2)} mm per 1000 h`;
  return `${sentenceCase(part)}: ${fastest.group} wears ${fixed(fastest.ratio, 1)} times as fast as ${slowest.group}`;
}

export function rateInWords(
  part: string,
  input: RateInput,
  byName: ReadonlyMap<string, GroupResult>,
): string {
  const rates = input.fitted.map((row) => {
    const rate = byName.get(row.group)?.wear.fit?.ratePer1000H;
    return `${row.group} ${rate === undefined ? "" : boundedRate(rate)}`;
  });
  const without = input.unfitted.map((row) => row.group);
  const said = rates.length === 0 ? "no group has a fit" : listed(rates);
  const missing = without.length === 0 ? "" : ` Without a fit: ${listed(without)}.`;
  return `Wear rates of the ${part} in mm per 1000 flight hours, fastest first: ${said}.${missing}`;
}

export function rateCaption({ fitted }: RateInput): string {
  const marks = "Dot: rate of the group. Line: its bounds.";
  if (fitted.length < 2) return marks;
  return (
    `${marks} At the right: rate over that of the slowest group, without bounds; groups flown by other aircraft can ` +
    "differ for other reasons than place and standard."
  );
}
