/** What each choice costs: looks, man-hours and replacements, by 1000 flight hours of a component and by year. */
import type { Task } from "../fleet/fleet.ts";
import type { ReadExports } from "../records/exports.ts";
import type { GroupKey, Life } from "../records/life.ts";
import { addMonths, type Day, monthEnd } from "../units.ts";
import type { ChoiceCost, ChoiceCosts } from "./choices-result.ts";
import type { Lines } from "./evidence.ts";
import type { RiskAtInterval } from "./month-result.ts";
import { looksPerLife } from "./over-limit-share.ts";
import { worse } from "./risks.ts";
import { unsafeRates } from "./unsafe-rates.ts";
import { isRunning } from "./watch-list.ts";

/** What looking and replacing would cost at each choice. */
export function choiceCosts(
  task: Task,
  risks: readonly RiskAtInterval[],
  lines: Lines,
  otherRemovalsPerHour: number,
  hoursPerYear: number | null,
): ChoiceCosts {
  const rows = risks.map(
    ({ intervalH, overLimitPerInspection: { life, wear }, unsafeBeforeSeen }): ChoiceCost => {
      const looksPer1000H = 1000 / intervalH;
      const worn = wornPerLook(lines, intervalH);
      return {
        intervalH,
        looksPer1000H,
        manHoursPer1000H: task.manHours === null ? null : task.manHours * looksPer1000H,
        replacementsPer1000H: worn === null ? null : worn * looksPer1000H + 1000 * otherRemovalsPerHour,
        unsafe: unsafeRates(unsafeBeforeSeen, worse(life, wear), intervalH),
      };
    },
  );
  return { manHoursPerLook: task.manHours, componentHoursPerYear: hoursPerYear, rows };
}

/**
 * Replacements at the limit per look in the long run: one for each life, which takes as many looks as there are until one
 * finds it at the limit. Best estimate; of the two lines the one that replaces more often.
 */
function wornPerLook({ life, wear }: Lines, intervalH: number): number | null {
  const shares = [life, wear].flatMap((line) =>
    line.kind === "line" ? [line.line.estimated((survival) => 1 / looksPerLife(survival, intervalH))] : [],
  );
  return shares.length === 0 ? null : Math.max(...shares);
}

/**
 * Flight hours of the group's fitted components in the twelve months up to a day: each component has the hours that its
 * aircraft flew in the group's environment. null without an export of hours flown.
 */
export function componentHoursPerYear(
  exports: ReadExports,
  lives: readonly Life[],
  { environment }: GroupKey,
  asOf: Day,
): number | null {
  const { flying } = exports;
  if (flying === null || flying.rows === 0) return null;
  const yearAgo = addMonths(asOf, -12);
  const flown = new Map<string, number>();
  for (let row = 0; row < flying.rows; row++) {
    const end = monthEnd(flying.month[row]!);
    const aircraft = flying.aircraft.codes[row]!;
    if (aircraft < 0 || end <= yearAgo || end > asOf) continue;
    const place = flying.environment.codes[row]!;
    if (flying.environment.words.length > 0 && flying.environment.words[place] !== environment) continue;
    const name = flying.aircraft.words[aircraft]!;
    flown.set(name, (flown.get(name) ?? 0) + flying.hours[row]!);
  }
  return lives.filter(isRunning).reduce((sum, { aircraft }) => sum + (flown.get(aircraft) ?? 0), 0);
}
