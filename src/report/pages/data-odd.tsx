/** Readings far off their component's line, with the rows they stand in: flagged, never dropped. */
import type { VNode } from "preact";
import type { Month } from "../../interval/month-result.ts";
import { groupName } from "../group-name.ts";
import { Part } from "../layout.tsx";
import { fixed, whole } from "../number-format.ts";
import { type Cell, Table } from "../table.tsx";

export function OddReadings({ month }: { month: Month }): VNode {
  const found = month.groups.reduce((sum, { wearChecks }) => sum + wearChecks.measurement.oddCount, 0);
  const rows = month.groups.flatMap(({ key, wearChecks }) =>
    wearChecks.measurement.odd.map((odd): readonly Cell[] => [
      <bdi key="serial">{odd.serial}</bdi>,
      <bdi key="group">{groupName(key)}</bdi>,
      whole(odd.hours),
      fixed(odd.wearMm, 3),
      fixed(odd.standardised, 1),
      fixed(odd.influenceMmPer1000H, 3),
      <bdi key="source">{odd.source}</bdi>,
    ]),
  );
  return (
    <Part title="Odd readings">
      {rows.length === 0 ? (
        <p>No wear reading lies 4 standard deviations off the line of its component’s other readings.</p>
      ) : (
        <Table
          sortable
          narrow="scroll"
          caption={`${whole(rows.length)} of ${whole(found)}, at most 10 a group, the farthest first. All stay in every fit: read the row, and correct the export where it is wrong. Influence: how the component’s own rate would change without the reading.`}
          columns={[
            { head: "Component" },
            { head: "Group" },
            { head: "Hours", numeric: true },
            { head: "Wear, mm", numeric: true },
            { head: "Off the line, SD", numeric: true },
            { head: "Influence, mm per 1000 h", numeric: true },
            { head: "Row" },
          ]}
          rows={rows}
        />
      )}
    </Part>
  );
}
