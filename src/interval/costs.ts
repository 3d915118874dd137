/** What each choice costs: looks, man-hours and replacements, by 1000 flight hours of a component and by year. */
import type { Task } from "../fleet/fleet.ts";
import type { ChoiceCost, ChoiceCosts } from "./choices-result.ts";
import type { Lines } from "./evidence.ts";
import type { RiskAtInterval } from "./month-result.ts";
import { looksPerLife } from "./over-limit-share.ts";
import { worse } from "./risks.ts";
import { unsafeRates } from "./unsafe-rates.ts";

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
