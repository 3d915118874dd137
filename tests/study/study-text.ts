/** The study's table in words, for a terminal. */
import type { Counted, StudyRow, StudyTable } from "../../src/interval/study-table.ts";

const percent = (share: number): string => `${(100 * share).toFixed(1)} %`;

export const shareText = ({ n, of, lower, upper }: Counted): string =>
  of === 0 ? "0 of 0" : `${n} of ${of} (${percent(n / of)}, ${percent(lower)} to ${percent(upper)})`;

export function studyText(table: StudyTable): string {
  const lines = [`Program ${table.commit}, ${table.date}, seeds ${table.seeds}, run ${table.runs} times.`];
  for (const row of [...table.rows, table.all]) lines.push(`${row.kind}: ${rowText(row)}`);
  lines.push(
    `True risk over acceptable at the extended interval: ${table.overshoot === null ? "no extension" : `95th percentile ${table.overshoot.p95.toFixed(2)}, largest ${table.overshoot.largest.toFixed(2)}`}`,
    `Power, gentle fleets that could be extended by half: ${shareText(table.power)}`,
    ...table.powerBy.map(
      ({ from, to, extended }) =>
        `  of all kinds, could be ${from} to ${to ?? "any"} times: ${shareText(extended)}`,
    ),
    `Shortened though both true risks were acceptable: ${shareText(table.needless)}`,
    `Upper 95 % bounds under the truth: wear ${shareText(table.all.wearBoundUnder)}; unsafe ${shareText(table.all.unsafeBoundUnder)}`,
  );
  return `${lines.join("\n")}\n`;
}

const rowText = ({
  fleets,
  unsafe,
  unsafeWhereMany,
  everExtended,
  missed,
  missedWhereFew,
}: StudyRow): string =>
  [
    `${fleets} fleets`,
    `unsafe extensions ${shareText(unsafe)}; with 200 components ${unsafeWhereMany.n} of ${unsafeWhereMany.of}`,
    `ever extended though always unsafe ${shareText(everExtended)}`,
    `missed shortenings ${shareText(missed)}, where few were seen ${shareText(missedWhereFew)}`,
  ].join("; ");
