/** Removal trends as the pages take them. */
import type { MeanHoursBetween } from "../trend/mtbr.ts";
import type { PartTrend } from "../trend/removal-trends.ts";
import type { Bounded, RemovalMonth, RemovalTrend } from "./month-result.ts";

export function trendResult(trend: PartTrend, part: string): RemovalTrend {
  const { open, overMonths } = trend.alerts;
  return {
    part,
    environment: trend.environment,
    months: trend.months.map((month, i): RemovalMonth => {
      const rate = trend.rates[i]!;
      const alert = trend.alerts.months[i]!;
      return {
        ...month,
        per1000H:
          rate.kind === "rate"
            ? { estimate: rate.per1000H, lower: rate.lowerPer1000H, upper: rate.upperPer1000H }
            : null,
        alertCount: alert.kind === "limit" ? alert.alertCount : null,
        over: alert.kind === "limit" && alert.over,
      };
    }),
    alert: open,
    alertWhy: open ? `${overMonths.join(" and ")} over the 99 % limit` : null,
    causes: trend.causes.map(({ cause, removals, noFaultFound }) => ({
      mode: cause,
      removals,
      unconfirmed: noFaultFound,
    })),
    meanHoursBetween: {
      all: boundedMean(trend.means.all),
      unscheduled: boundedMean(trend.means.unscheduled),
    },
  };
}

/** Without removals there is only a lower limit, and no estimate. */
function boundedMean(mean: MeanHoursBetween): Bounded | null {
  if (mean.kind !== "estimated") return null;
  return { estimate: mean.meanHours, lower: mean.lowerHours, upper: mean.upperHours };
}
