/** reports/index.html: the months that were published, newest first, with what each decided. */
import type { VNode } from "preact";
import { Document, Part, renderPage } from "../layout.tsx";
import { legible } from "../legible.ts";
import { counted, monthName } from "../number-format.ts";

/** One publication of a month. */
export interface MonthEntry {
  /** Name of its folder. */
  readonly folder: string;
  /** YYYY-MM */
  readonly month: string;
  /** 1 for the first publication of a month. */
  readonly revision: number;
  /** The digest's first lines. */
  readonly summary: readonly string[];
  /** False where its pages were removed to save space. */
  readonly hasPages: boolean;
}

function Entry({ entry }: { entry: MonthEntry }): VNode {
  const name = `${monthName(entry.month)}${entry.revision === 1 ? "" : `, revision ${entry.revision}`}`;
  return (
    <Part title={name}>
      {entry.hasPages ? (
        <p>
          <a href={`${encodeURI(entry.folder)}/index.html`}>Report of {name}</a>
        </p>
      ) : (
        <p>Its pages were removed; its results are kept in {entry.folder}.</p>
      )}
      {entry.summary.length === 0 ? (
        <p>No summary could be read.</p>
      ) : (
        <ul>
          {entry.summary.map((line) => (
            <li key={line}>
              <bdi>{line}</bdi>
            </li>
          ))}
        </ul>
      )}
    </Part>
  );
}

/** A record of past months: what their reports said, against what came. */
export type RecordEntry = Pick<MonthEntry, "folder" | "month" | "revision">;

function Records({ records }: { records: readonly RecordEntry[] }): VNode {
  return (
    <Part title="Past months' record">
      <p>What past months said, held against what came after:</p>
      <ul>
        {records.map(({ folder, month, revision }) => (
          <li key={folder}>
            <a href={`${encodeURI(folder)}/record.html`}>
              Record up to {monthName(month)}
              {revision === 1 ? "" : `, revision ${revision}`}
            </a>
          </li>
        ))}
      </ul>
    </Part>
  );
}

/** The page's text. Months and records stand in the order given, newest first. */
export function monthsPage(given: readonly MonthEntry[], records: readonly RecordEntry[] = []): string {
  const entries = legible(given);
  const newest = entries[0];
  const title =
    newest === undefined
      ? "No month is published yet"
      : `${counted(new Set(entries.map(({ month }) => month)).size, "month")} published; the latest is ${monthName(newest.month)}`;
  return renderPage(
    <Document title={title} heading={<p>rotorwear: reports by month</p>} navigation={null}>
      <h1>{title}</h1>
      {entries.map((entry) => (
        <Entry key={entry.folder} entry={entry} />
      ))}
      {records.length === 0 ? null : <Records records={records} />}
    </Document>,
  );
}
