/** Removals in numbers, under their charts: mean hours between them, causes, and whether their rate is changing. */
import type { VNode } from "preact";
import type { Month } from "../../interval/month-result.ts";
import type { MeanBetween, RemovalTrend, TrendOverHours } from "../../interval/removal-findings.ts";
import { fixed, hours, percent, share, whole } from "../number-format.ts";
import { type Cell, Table } from "../table.tsx";
import { pValue } from "./p-value.ts";

/** Evidence this strong is called a trend. */
const TREND_P = 0.05;

const placed = ({ part, environment }: RemovalTrend): VNode => (
  <bdi>
    {part}, {environment}
  </bdi>
);

const meanWritten = (mean: MeanBetween | null): string => {
  if (mean === null) return "nothing flown";
  if (mean.estimate === null) return `none removed; at least ${hours(mean.lower)}`;
  return `${hours(mean.estimate)} (${whole(mean.lower, "down")}–${mean.upper === null ? "no bound" : whole(mean.upper, "up")})`;
};

function Means({ month }: { month: Month }): VNode {
  return (
    <Table
      caption={`Mean flight hours between removals, exact two-sided ${share(month.fleet.acceptable.confidence)} limits. Unscheduled: for cause. Not cleared: those without a “no fault found”.`}
      columns={[
        { head: "Where" },
        { head: "All removals", numeric: true },
        { head: "Unscheduled", numeric: true },
        { head: "Not cleared by the shop", numeric: true },
      ]}
      rows={month.trends.map((trend): readonly Cell[] => [
        placed(trend),
        meanWritten(trend.meanHoursBetween.all),
        meanWritten(trend.meanHoursBetween.unscheduled),
        meanWritten(trend.meanHoursBetween.failures),
      ])}
    />
  );
}

function Causes({ month }: { month: Month }): VNode | null {
  const rows = month.trends.flatMap((trend) => {
    const all = trend.causes.reduce((sum, { removals }) => sum + removals, 0);
    return trend.causes.map((cause): readonly Cell[] => [
      placed(trend),
      <bdi key="mode">{cause.mode}</bdi>,
      whole(cause.removals),
      percent(cause.removals / all),
      whole(cause.confirmed),
      whole(cause.unconfirmed),
      whole(cause.noFinding),
    ]);
  });
  if (rows.length === 0) return null;
  return (
    <Table
      caption="Causes of unscheduled removals, most frequent first; what the shop found is kept apart."
      columns={[
        { head: "Where" },
        { head: "Cause" },
        { head: "Removals", numeric: true },
        { head: "Share, %", numeric: true },
        { head: "Confirmed", numeric: true },
        { head: "No fault found", numeric: true },
        { head: "No finding yet", numeric: true },
      ]}
      rows={rows}
    />
  );
}

/** Laplace's test and the military handbook's are strong against different trends: either speaks. */
function verdict({ laplace, militaryHandbook }: TrendOverHours): string {
  if (laplace === null || militaryHandbook === null) return "too few to tell";
  if (Math.min(laplace.pTwoSided, militaryHandbook.pTwoSided) >= TREND_P) return "no trend shown";
  return laplace.z > 0 ? "coming faster" : "coming more slowly";
}

function Tests({ month }: { month: Month }): VNode {
  return (
    <Table
      caption={`Is the rate of unscheduled removals changing over the fleet’s flight hours? Exponent of a power law: over 1 they come ever faster; maximum likelihood n/Σ ln(T/t) as in MIL-HDBK-189 with exact ${share(month.fleet.acceptable.confidence)} limits, and modified (n − 1)/Σ ln(T/t) as in the NIST handbook 8.4.5.2. Tests two-sided.`}
      narrow="scroll"
      columns={[
        { head: "Where" },
        { head: "Finding" },
        { head: "Removals", numeric: true },
        { head: "Flight hours", numeric: true },
        { head: "Laplace z", numeric: true },
        { head: "p", numeric: true },
        { head: "Handbook χ²", numeric: true },
        { head: "p ", numeric: true },
        { head: "Exponent", numeric: true },
        { head: "modified", numeric: true },
      ]}
      rows={month.trends.map((trend): readonly Cell[] => {
        const { events, hours: flown, laplace, militaryHandbook, powerLaw } = trend.overHours;
        return [
          placed(trend),
          verdict(trend.overHours),
          whole(events),
          whole(flown),
          laplace === null ? "–" : fixed(laplace.z, 2),
          laplace === null ? "–" : pValue(laplace.pTwoSided),
          militaryHandbook === null ? "–" : fixed(militaryHandbook.chiSquared, 1),
          militaryHandbook === null ? "–" : pValue(militaryHandbook.pTwoSided),
          powerLaw === null
            ? "–"
            : `${fixed(powerLaw.maximumLikelihood, 2)} (${fixed(powerLaw.lower, 2, "down")}–${fixed(powerLaw.upper, 2, "up")})`,
          powerLaw === null ? "–" : fixed(powerLaw.modified, 2),
        ];
      })}
    />
  );
}

/** null without trends. */
export function RemovalNumbers({ month }: { month: Month }): VNode | null {
  if (month.trends.length === 0) return null;
  return (
    <>
      <h3>Removals in numbers</h3>
      <Means month={month} />
      <Causes month={month} />
      <Tests month={month} />
      <p class="small">
        {whole(month.trends.length)} rows are tested at once: at the {share(TREND_P)} level one in twenty
        shows a trend by luck.
      </p>
    </>
  );
}
