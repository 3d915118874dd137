/** The life chart of a table that a user has: as a group's, but the event is whatever the table's events are. */
import type { GroupLife } from "../../interval/life-findings.ts";
import { boundedHours, counted, share, whole } from "../number-format.ts";
import { type Chart, chartId } from "./chart.ts";
import { lifeSpec } from "./life-chart.ts";
import { lifeKinds, lifeRange } from "./life-range.ts";
import { INK } from "./theme.ts";

export interface TableLife {
  readonly group: string;
  readonly life: GroupLife;
}

const WORDS = { axis: "Had the event (% of lives, Weibull scale)", tenPercentBy: "10 % by" };

/** One chart a group, all on the same axes. */
export function tableLifeCharts(groups: readonly TableLife[], confidence: number): Chart[] {
  const shared = { range: lifeRange(groups), kinds: lifeKinds(groups) };
  return groups.map(({ group, life }, at) => {
    const name = group === "all" ? "All lives" : group;
    const counts = `${counted(life.lives, "life", "lives")}, ${counted(life.events, "event")}, ${whole(life.running)} running`;
    const title =
      life.weibull === null
        ? `${name}: ${counts}; no fit`
        : `${name}: one in ten has had the event by ${boundedHours(life.weibull.tenPercentHours)}`;
    return {
      id: `${chartId("life", group)}-${at + 1}`,
      title,
      spec: lifeSpec({
        life,
        ...shared,
        label: counts,
        style: { colour: INK, dash: [1, 0] },
        words: WORDS,
      }),
      alt: `Share of lives with the event against flight hours on Weibull axes. ${title}. ${counts}.`,
      caption: `Steps: observed, dotted their bounds. Line: fitted Weibull, band its bounds, at ${share(confidence)} confidence.`,
      columns: [],
      rows: [],
    };
  });
}
