/** record.html: read by an auditor. What did past months say, what came of it, and where can't that be known? */
import type { ComponentChildren, VNode } from "preact";
import type { PastRecord } from "../../replay/record-result.ts";
import { isoDate } from "../../units.ts";
import type { FigureProps } from "../charts/chart.ts";
import { Document, Part } from "../layout.tsx";
import { counted, date, listed, monthName, whole } from "../number-format.ts";
import { recordSummary, recordTitle } from "../record-words.ts";
import { type Cell, Table } from "../table.tsx";
import { PastAnswers } from "./record-answers.tsx";
import { PredictedAndFound, WatchCalibrated } from "./record-counts.tsx";
import { Granted } from "./record-granted.tsx";

export interface RecordPageProps {
  readonly record: PastRecord;
  readonly counts: readonly FigureProps[];
  readonly watch: FigureProps | null;
}

/** The whole page. */
export function RecordPage({ record, counts, watch }: RecordPageProps): VNode {
  const title = recordTitle(record);
  return (
    <Document
      title={`Record up to ${monthName(record.month)}`}
      heading={<Heading record={record} />}
      navigation={
        <nav aria-label="Other pages">
          <ul>
            <li>
              <a href="../index.html">All months</a>
            </li>
            <li>
              <a href="record.json">The same for programs</a>
            </li>
          </ul>
        </nav>
      }
    >
      <h1>{title}</h1>
      <Part title="In short">
        <ul>
          {recordSummary(record).map((sentence) => (
            <li key={sentence}>{sentence}</li>
          ))}
        </ul>
      </Part>
      <PredictedAndFound record={record} figures={counts} />
      <WatchCalibrated record={record} figure={watch} />
      <Granted record={record} />
      <PastAnswers record={record} />
      <NotKnown record={record} />
      <MadeFrom record={record} />
    </Document>
  );
}

function Heading({ record }: { record: PastRecord }): ComponentChildren {
  return (
    <>
      <p>
        <bdi>{record.fleet.name}</bdi> · record up to {isoDate(record.asOf)}
      </p>
      <p>
        {record.program} · settings {record.settingsSha256.slice(0, 12)}
      </p>
    </>
  );
}

function NotKnown({ record }: { record: PastRecord }): VNode {
  const { undated, fleet } = record;
  const dated = Object.values(fleet.exports).filter(({ exported }) => exported !== null);
  const missing = missingText(record);
  return (
    <Part title="What this can't show" id="not-known">
      <ul>
        {undated.length === 0 ? null : (
          <li>
            The exports of {listed(undated)} have no date of export, so that a past month takes from them
            every row dated by then: corrections made later, and rows entered late, are in it and can't be
            undone. Set <code>exported</code> in the fleet file where names or a column tell the date.
          </li>
        )}
        {dated.length === 0 ? null : (
          <li>
            From the exports of {listed(dated.map(({ kind }) => kind))} a month takes what was exported on or
            before its last day. A report made some days later may have had more.
          </li>
        )}
        {missing === null ? null : <li>{missing}</li>}
        <li>
          Limits, acceptable risks, thresholds and the program itself are today's. A month's own report, made
          with the settings and the program of then, may have said something else; where it was published it
          stands.
        </li>
        <li>
          Chances and bounds of later looks are worked out as if the looks were independent; components of one
          aircraft are alike, so that p is somewhat too small.
        </li>
        <li>
          Had an interval been longer, crews would have met other wear: a seal would have been adjusted later,
          a component removed at another time. The readings that were made say nothing of that.
        </li>
        <li>
          Past its last reading a component's wear is its own straight line; wear that speeds up near the
          limit would be worse. Over the limit the line counts with the fleet file's{" "}
          <code>beyond_limit_factor</code>.
        </li>
      </ul>
    </Part>
  );
}

/** Which exports were not there yet in which months; null where all were. */
function missingText({ months }: PastRecord): string | null {
  const kinds = [...new Set(months.flatMap(({ missing }) => missing))];
  if (kinds.length === 0) return null;
  return `${kinds
    .map((kind) => {
      const without = months.filter(({ missing }) => missing.includes(kind));
      return `${counted(without.length, "month-end")} had no export of ${kind} yet (the last of them ${without.at(-1)!.month})`;
    })
    .join("; ")}. A report made then may have had one that was replaced since.`;
}

function MadeFrom({ record }: { record: PastRecord }): VNode {
  return (
    <Part title="Made from" id="made-from">
      {record.skipped.length === 0 ? null : (
        <Table
          caption="Month-ends that could not be replayed."
          columns={[{ head: "Month-end", unbroken: true }, { head: "Why" }]}
          rows={record.skipped.map(({ month, why }): readonly Cell[] => [month, <bdi key="why">{why}</bdi>])}
        />
      )}
      <p>
        {counted(record.inputs.length, "export")}; settings sha256 {record.settingsSha256}; {record.program}.
      </p>
      <details>
        <summary>{whole(record.inputs.length)} exports and their hashes</summary>
        <Table
          narrow="scroll"
          label="Exports and their hashes"
          columns={[
            { head: "File" },
            { head: "Export", unbroken: true },
            { head: "Exported", unbroken: true },
            { head: "sha256" },
          ]}
          rows={record.inputs.map(({ file, kind, exported, sha256 }): readonly Cell[] => [
            <bdi key="file">{file}</bdi>,
            kind,
            date(exported),
            sha256,
          ])}
        />
      </details>
    </Part>
  );
}
