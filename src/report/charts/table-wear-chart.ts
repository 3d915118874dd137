/** The wear chart of a table that a user has: as a group's, with a limit only where one is given. */
import type { Bounded, GroupWear } from "../../interval/month-result.ts";
import type { WearTable } from "../../records/wear-table.ts";
import { boundedRate, counted, millimetres } from "../number-format.ts";
import { type Chart, chartId } from "./chart.ts";
import { INK } from "./theme.ts";
import { type WearAxes, type WearReading, wearSpec } from "./wear-chart.ts";

export interface TableWear {
  readonly group: string;
  readonly table: WearTable;
  /** null: no fit, and no line is drawn. */
  readonly ratePer1000H: Bounded | null;
  readonly band: GroupWear["band"];
}

/** One chart a group, all on the same axes. */
export function tableWearCharts(groups: readonly TableWear[], limitMm: number | null): Chart[] {
  const axes = tableAxes(groups, limitMm);
  return groups.map(({ group, table, ratePer1000H, band }, at) => {
    const name = group === "all" ? "All components" : group;
    const counts = `${counted(table.rows, "reading")} of ${counted(table.components, "component")}`;
    const title =
      ratePer1000H === null
        ? `${name}: ${counts}; no fit`
        : `${name}: wears ${boundedRate(ratePer1000H, "mm")} per 1000 h`;
    const limit = limitMm === null ? "" : ` The limit is ${millimetres(limitMm)}.`;
    return {
      id: `${chartId("wear", group)}-${at + 1}`,
      title,
      spec: wearSpec({
        readings: readingsOf(table),
        band,
        axes,
        replaceAtMm: limitMm,
        unsafeAtMm: null,
        intervalH: null,
        label: counts,
        style: { colour: INK, dash: [1, 0] },
      }),
      alt: `Wear against flight hours. ${title}. ${counts}.${limit}`,
      caption: "Faint lines: components. Line: the group. Band: nine components of ten.",
      columns: [],
      rows: [],
    };
  });
}

/** Readings by component and hours: what a line joins. */
function readingsOf({ rows, component, hours, wearMm }: WearTable): WearReading[] {
  return Array.from({ length: rows }, (_, row) => ({
    line: component[row]!,
    hours: hours[row]!,
    wearMm: wearMm[row]!,
  })).sort((a, b) => a.line - b.line || a.hours - b.hours);
}

function tableAxes(groups: readonly TableWear[], limitMm: number | null): WearAxes {
  const hours = groups.flatMap(({ table }) => Array.from(table.hours));
  const wear = groups.flatMap(({ table }) => Array.from(table.wearMm));
  const most = (values: readonly number[], least: number) =>
    values.reduce((high, value) => Math.max(high, value), least);
  return {
    maxHours: most(hours, 1e-9),
    minMm: wear.reduce((low, value) => Math.min(low, value), 0),
    maxMm: 1.05 * most(wear, limitMm ?? 1e-9),
  };
}
