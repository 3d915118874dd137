/** The annex's table of what each interval costs, against its risk. */
import type { VNode } from "preact";
import type { ChoiceCost } from "../../interval/choices-result.ts";
import type { Recommendation } from "../../interval/month-result.ts";
import { roundedDigits } from "../../math/rounded.ts";
import { Part } from "../layout.tsx";
import { alignedOnPoint, fixed, hours, whole } from "../number-format.ts";
import { type Cell, Table } from "../table.tsx";
import type { OfficerProps } from "./interval-proposal.tsx";

/** Of a long grid so many rows, the present, recommended and longest demonstrated intervals among them. */
const ROWS = 10;

function chosen({ costs, ...recommendation }: Recommendation): readonly ChoiceCost[] {
  const { rows } = costs;
  const { presentIntervalH, recommendedIntervalH, longestByBoundH } = recommendation;
  const every = Math.ceil(rows.length / ROWS);
  return rows.filter(
    ({ intervalH }, i) =>
      i % every === 0 || [presentIntervalH, recommendedIntervalH, longestByBoundH].includes(intervalH),
  );
}

const number = (value: number | null, decimals: number): string =>
  value === null ? "–" : fixed(value, decimals);

/** Decimals that leave two significant digits, at most 10. */
const decimals = (value: number): number =>
  value <= 0 ? 0 : Math.min(10, Math.max(0, 1 - Math.floor(Math.log10(value))));

/** Bounds on chances of very different size: two significant digits each, rounded up, aligned on the point. */
const small = (values: readonly (number | null)[]): readonly string[] =>
  alignedOnPoint(
    values.map((value) => {
      if (value === null) return "–";
      const shown = roundedDigits(value, 2, "up");
      return fixed(shown, decimals(shown));
    }),
  );

/** So rare that they are counted in a million. */
const times = (factor: number, value: number | null | undefined): number | null =>
  value == null ? null : factor * value;

export function Costs({ recommendation }: OfficerProps): VNode {
  const { componentHoursPerYear: yearH, manHoursPerLook } = recommendation.costs;
  const inYear = (per1000H: number | null) =>
    per1000H === null || yearH === null ? null : (per1000H * yearH) / 1000;
  const shown = chosen(recommendation);
  const perMillionLooks = small(shown.map(({ unsafe }) => times(1e6, unsafe?.perLook.upper)));
  const perMillionH = small(shown.map(({ unsafe }) => times(1000, unsafe?.per1000H.upper)));
  const rows = shown.map((row, at): readonly Cell[] => [
    whole(row.intervalH),
    number(row.looksPer1000H, 2),
    number(row.manHoursPer1000H, 1),
    number(row.replacementsPer1000H, 2),
    number(inYear(row.looksPer1000H), 0),
    number(inYear(row.manHoursPer1000H), 0),
    number(inYear(row.replacementsPer1000H), 0),
    perMillionLooks[at],
    perMillionH[at],
  ]);
  const head = (name: string) => ({ head: name, numeric: true });
  const year =
    yearH === null
      ? "No hours flown are exported, so no year can be given."
      : `A year: ${hours(yearH)} of components, as flown in the last 12 months.`;
  const work =
    manHoursPerLook === null
      ? "No man-hours are given for the task."
      : `${fixed(manHoursPerLook, 1)} man-hours are taken for each component looked at.`;
  return (
    <Part title="What each choice costs">
      <Table
        narrow="scroll"
        caption={`By 1000 flight hours of one component, and by year for the group. ${work} ${year} Replacements are best estimates: worn to the limit in the long run, and removals for other causes at their present rate. Unsafe before seen: upper bounds, in a million looks and in a million hours; each is a product of two one-sided bounds.`}
        columns={[
          head("Interval, h"),
          head("Looks"),
          head("Man-hours"),
          head("Replaced"),
          head("Looks a year"),
          head("Man-hours a year"),
          head("Replaced a year"),
          head("Unsafe (looks)"),
          head("Unsafe (hours)"),
        ]}
        rows={rows}
      />
    </Part>
  );
}
