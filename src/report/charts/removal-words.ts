/** What a removal chart says: its title, its words, and how to read it. */
import type { RemovalTrend } from "../../interval/removal-findings.ts";
import { sentenceCase } from "../group-name.ts";
import { counted, fixed, listed, monthName, share, whole } from "../number-format.ts";
import type { RemovalRow } from "./removal-chart.ts";

function overall(trend: RemovalTrend): string {
  const flown = trend.months.reduce((sum, month) => sum + month.flightHours, 0);
  const unscheduled = trend.months.reduce((sum, month) => sum + month.unscheduled, 0);
  if (flown === 0) return "no hours flown";
  return `${fixed((1000 * unscheduled) / flown, 1)} unscheduled per 1000 h in ${counted(trend.months.length, "month")}`;
}

/** The finding in a title's words. */
export function removalTitle(trend: RemovalTrend): string {
  const where = sentenceCase(trend.environment);
  if (trend.alert) return `${where}, alert: ${trend.alertWhy ?? "over the alert level"}`;
  return `${where}: ${overall(trend)}, no alert`;
}

/** The picture in words, for whoever can't see it. */
export function removalInWords(trend: RemovalTrend, rows: readonly RemovalRow[]): string {
  const over = rows.filter((row) => row.over).map((row) => monthName(row.month));
  const last = rows.at(-1);
  const latest = last === undefined ? "" : ` In ${monthName(last.month)}: ${fixed(last.rate, 1)}.`;
  const alert =
    over.length === 0 ? "No month is over the alert level." : `Over the alert level: ${listed(over, 6)}.`;
  return `Unscheduled removals of the ${trend.part} per 1000 flight hours by month, ${trend.environment}: ${overall(trend)}.${latest} ${alert}`;
}

/** How to read the picture: limits and alert level. */
export function removalCaption(trend: RemovalTrend, confidence: number): string {
  const idle = trend.months.filter((month) => month.per1000H === null).length;
  const gap =
    idle === 0 ? "" : ` ${counted(idle, "month")} without flying ${idle === 1 ? "is" : "are"} left out.`;
  const causes = trend.causes
    .slice(0, 4)
    .map(
      (cause) =>
        `${cause.mode} ${whole(cause.removals)}${cause.unconfirmed > 0 ? ` (${whole(cause.unconfirmed)} unconfirmed)` : ""}`,
    );
  const ranked = causes.length === 0 ? "" : ` Causes: ${listed(causes)}.`;
  return `Band: exact Poisson limits at ${share(confidence)} confidence. Dashes: alert level, the count that the month's hours would reach one time in a hundred.${gap}${ranked}`;
}
