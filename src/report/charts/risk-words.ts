/** What a risk chart says: its title and its words. */
import { sentenceCase } from "../group-name.ts";
import { atMost, hours, listed, share, shareAgainst } from "../number-format.ts";
import type { RiskInput } from "./risk-chart.ts";

/** Risk at an interval as a sentence's end: "3.1 % from lives (at most 5.2 %)". */
function riskAt(input: RiskInput, intervalH: number): string {
  const said = input.lines.flatMap((one) => {
    const point = one.points.find((candidate) => candidate.intervalH === intervalH);
    if (point === undefined) return [];
    const bound =
      point.upper === null ? "no bound" : atMost(shareAgainst(point.upper, input.acceptable, "up"));
    return [`${shareAgainst(point.estimate, input.acceptable)} ${one.name} (${bound})`];
  });
  return said.length === 0 ? "not known" : listed(said);
}

/**
 * "Sandy, plain: at the present 300 h up to 32 % of looks find one over the limit (acceptable 10 %)"; where another
 * interval is recommended, what it says is of that one: it is what would be signed.
 */
export function riskTitle(input: RiskInput, group: string): string {
  const { presentH, recommendedH } = input;
  const intervalH = recommendedH ?? presentH;
  const at = input.lines.flatMap((one) => one.points.filter((point) => point.intervalH === intervalH));
  const place = sentenceCase(group);
  const where = `at the ${recommendedH === null ? "present" : "recommended"} ${hours(intervalH)}`;
  if (at.length === 0) return `${place}: ${where} this risk is not known`;
  const worst = at.reduce<number | null>(
    (most, { upper }) => (most === null || upper === null ? null : Math.max(most, upper)),
    0,
  );
  const acceptable = `(acceptable ${share(input.acceptable)})`;
  if (worst === null) return `${place}: ${where} no upper bound can be set on this risk ${acceptable}`;
  return `${place}: ${where} up to ${shareAgainst(worst, input.acceptable, "up")} ${input.finding} ${acceptable}`;
}

/** The picture in words, for whoever can't see it. */
export function riskInWords(input: RiskInput): string {
  const recommended =
    input.recommendedH === null
      ? ""
      : ` At the recommended ${hours(input.recommendedH)}: ${riskAt(input, input.recommendedH)}.`;
  const observed =
    input.observedToH === null
      ? " Too few components were followed at any age."
      : ` Components were followed in number to ${hours(input.observedToH)}.`;
  return (
    `${input.name} against the interval between looks. At the present ${hours(input.presentH)}: ` +
    `${riskAt(input, input.presentH)}.${recommended} Acceptable: ${share(input.acceptable)}.${observed}`
  );
}
