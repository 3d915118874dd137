/** The annex's tables of the fleet behind a group: its seals by quarter, and each aircraft's share of the evidence. */
import type { VNode } from "preact";
import type { GroupResult } from "../../interval/month-result.ts";
import { isFitted } from "../effectivity.ts";
import { Part } from "../layout.tsx";
import { counted, fixed, millimetres, share, whole } from "../number-format.ts";
import { type Cell, Table } from "../table.tsx";
import { SealShare } from "./interval-annex-wear.tsx";
import type { OfficerProps } from "./interval-proposal.tsx";

const QUARTERS = 4;

/** What the gap readings say of the seals of the group. */
export function Seals(props: OfficerProps): VNode {
  const { group, month } = props;
  const { environment, standard } = group.key;
  const tolerance = month.fleet.sealGaps.find((gap) => gap.standard === standard);
  const mine = month.gapQuarters.filter(
    (row) => row.environment === environment && row.standard === standard,
  );
  const latest = [...new Set(mine.map((row) => row.quarter))].sort().slice(-QUARTERS);
  const rows = mine
    .filter((row) => latest.includes(row.quarter))
    .map((row): readonly Cell[] => [
      `${row.quarter}, as ${row.state}`,
      whole(row.readings),
      fixed(row.medianMm, 2),
      `${fixed(row.lowMm, 2)}–${fixed(row.highMm, 2)}`,
      row.outOfTolerance === null ? "no tolerance given" : share(row.outOfTolerance),
    ]);
  if (rows.length === 0)
    return (
      <Part title="Seal gaps">
        <p>No gap reading belongs to this group.</p>
      </Part>
    );
  const allowed =
    tolerance === undefined
      ? "No tolerance is given for this standard."
      : `Tolerance: ${fixed(tolerance.lowMm, 2)} to ${millimetres(tolerance.highMm)}.`;
  return (
    <Part title="Seal gaps">
      <Table
        narrow="scroll"
        compact
        caption={`The last ${counted(latest.length, "quarter")} with readings. ${allowed}`}
        columns={[
          { head: "Quarter" },
          { head: "Readings", numeric: true },
          { head: "Median, mm", numeric: true },
          { head: "Low–high, mm", numeric: true },
          { head: "Out of tolerance", numeric: true },
        ]}
        rows={rows}
      />
      <SealShare {...props} />
    </Part>
  );
}

const isEvent = (end: GroupResult["lives"][number]["end"]): boolean =>
  end === "over limit found" ||
  end === "functional failure" ||
  end === "early removal" ||
  end === "unread removal";

/** Lives, looks and events by aircraft, most lives first; aircraft without a name come last. */
export function Aircraft({ group }: OfficerProps): VNode {
  const by = new Map<string, { lives: number; looks: number; events: number; fitted: number }>();
  for (const life of group.lives) {
    const row = by.get(life.aircraft) ?? { lives: 0, looks: 0, events: 0, fitted: 0 };
    row.lives += 1;
    row.looks += life.lookHours.length;
    row.events += isEvent(life.end) ? 1 : 0;
    row.fitted += isFitted(life) ? 1 : 0;
    by.set(life.aircraft, row);
  }
  const rows = [...by]
    .sort(([nameA, a], [nameB, b]) => b.lives - a.lives || (nameA < nameB ? -1 : 1))
    .map(([name, row]): readonly Cell[] => [
      name === "" ? "not recorded" : <bdi key="name">{name}</bdi>,
      whole(row.lives),
      whole(row.looks),
      whole(row.events),
      whole(row.fitted),
    ]);
  return (
    <Part title="Aircraft" kind="across">
      <p class="small">Every aircraft that gave this group a life, and what was found on it.</p>
      <div class="aircraft">
        <Table
          narrow="scroll"
          compact
          label="Aircraft of this group"
          columns={[
            { head: "Aircraft" },
            { head: "Lives", numeric: true },
            { head: "Looks", numeric: true },
            { head: "Over limit", numeric: true },
            { head: "Fitted now", numeric: true },
          ]}
          rows={rows}
        />
      </div>
    </Part>
  );
}
