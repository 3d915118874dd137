/** Removal trends as the pages take them. */
import { standardNormalQuantile } from "../math/distributions.ts";
import type { Alerts } from "../trend/control-limits.ts";
import type { FleetTrend } from "../trend/fleet-trend.ts";
import type { MeanHoursBetween } from "../trend/mtbr.ts";
import type { PartTrend } from "../trend/removal-trends.ts";
import type {
  MeanBetween,
  PerAircraft,
  RemovalMonth,
  RemovalTrend,
  TrendOverHours,
} from "./removal-findings.ts";

/** @param confidence  of the two-sided bounds */
export function trendResult(trend: PartTrend, part: string, confidence: number): RemovalTrend {
  const { open } = trend.alerts;
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
    alertWhy: alertWhy(trend.alerts),
    causes: trend.causes.map(({ cause, removals, confirmed, noFaultFound, noFinding }) => ({
      mode: cause,
      removals,
      confirmed,
      unconfirmed: noFaultFound,
      noFinding,
    })),
    meanHoursBetween: {
      all: meanBetween(trend.means.all),
      unscheduled: meanBetween(trend.means.unscheduled),
      failures: meanBetween(trend.means.failures),
    },
    overHours: overHours(trend.overHours),
    perAircraft: perAircraft(trend.perAircraft, confidence),
  };
}

/** Why an alert is open, or why it isn't known; null where none is open. */
export function alertWhy({ open, overMonths, unknownMonths, months }: Alerts): string | null {
  if (open === true) return `${overMonths.join(" and ")} over the 99 % limit`;
  if (open === false) return null;
  if (unknownMonths.length === 0) return `only ${months.length} of the last three months on record`;
  const why = months.find(({ month }) => month === unknownMonths[0]);
  const lacks =
    why?.kind === "no-limit" && why.why === "no hours"
      ? "no hours flown are exported for it or for the months before"
      : "fewer months of flying before it than the window asks";
  return `${unknownMonths.join(" and ")} had removals and no alert level: ${lacks}`;
}

function meanBetween(mean: MeanHoursBetween): MeanBetween | null {
  if (mean.kind === "no-hours") return null;
  if (mean.kind === "no-removals")
    return { removals: 0, estimate: null, lower: mean.lowerHours, upper: null };
  const { removals, meanHours, lowerHours, upperHours } = mean;
  return { removals, estimate: meanHours, lower: lowerHours, upper: upperHours };
}

function overHours({ system, leftOut, laplace, militaryHandbook, powerLaw }: FleetTrend): TrendOverHours {
  return {
    events: system.eventHours.length,
    hours: system.observedHours,
    leftOut,
    laplace: laplace.kind === "tested" ? { z: laplace.statistic, pTwoSided: laplace.pTwoSided } : null,
    militaryHandbook:
      militaryHandbook.kind === "tested"
        ? { chiSquared: militaryHandbook.statistic, pTwoSided: militaryHandbook.pTwoSided }
        : null,
    powerLaw:
      powerLaw.kind === "fitted"
        ? {
            maximumLikelihood: powerLaw.maximumLikelihood.shape,
            modified: powerLaw.modified.shape,
            lower: powerLaw.shapeLower,
            upper: powerLaw.shapeUpper,
            cramerVonMises: powerLaw.cramerVonMises,
          }
        : null,
  };
}

/** Bounds on the log scale, from the spread between aircraft. */
function perAircraft(
  { aircraft, leftOut, points }: PartTrend["perAircraft"],
  confidence: number,
): PerAircraft {
  const z = standardNormalQuantile((1 + confidence) / 2);
  return {
    aircraft,
    leftOut,
    points: points.map(({ hours, atRisk, mean, standardError }) => {
      const factor = Math.exp((z * standardError) / mean);
      return { hours, atRisk, mean, lower: mean / factor, upper: mean * factor };
    }),
  };
}
