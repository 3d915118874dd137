/**
 * One folder a trouble: exports.yaml (its first line tells the story), the export files, and what must come of them:
 * expected-rejected.csv and expected-ledger.jsonl, or expected-error.txt.
 *
 * A missing expectation is written on a developer's machine, to be read before it is committed, and fails on CI.
 */
import { existsSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { exportFolder } from "../../src/ingest/read-files.ts";
import { REJECTED_CSV_HEADING, rejectedCsvLine } from "../../src/ingest/rejected-csv.ts";
import { RotorwearError } from "../../src/problems.ts";
import { NO_DAY, type ReadExports } from "../../src/records/exports.ts";
import { read, smallFleet } from "./support.ts";

const ROOT = join(import.meta.dirname, "awkward");

/** The ledger and the values read, small enough to be read by eye. */
function summary({ files, components, setAside, unknownWords, latestDay, ...kinds }: ReadExports): string {
  const rows = Object.fromEntries(
    Object.entries(kinds)
      .filter(([, columns]) => columns !== null)
      .map(([kind, columns]) => [kind, rowsOf(columns!)]),
  );
  const shown = files.map(({ sha256: _, ...file }) => file);
  const lines = [
    ...shown,
    { serials: components.serial },
    ...Object.entries(rows).map(([kind, columns]) => ({ kind, columns })),
    ...linesSetAside(setAside),
    ...unknownWords,
    { latestDay },
  ];
  return lines.map((line) => `${JSON.stringify(line)}\n`).join("");
}

/** Physical lines of the rows that no life is made from, but that are looked through; nothing where there are none. */
function linesSetAside({ wear, removals, unreadRemovals }: ReadExports["setAside"]): object[] {
  const lines = {
    ...{ wear: [...(wear?.line ?? [])], removals: [...(removals?.line ?? [])] },
    unreadRemovals: unreadRemovals.map(({ line }) => line),
  };
  return Object.values(lines).every(({ length }) => length === 0) ? [] : [{ setAside: lines }];
}

function rowsOf(columns: object): Record<string, unknown> {
  return Object.fromEntries(
    Object.entries(columns).map(([name, column]) => {
      if (typeof column === "number") return [name, column];
      if (ArrayBuffer.isView(column)) return [name, [...(column as unknown as Iterable<number>)].map(plain)];
      const { codes, words } = column as { codes: Iterable<number>; words: readonly string[] };
      return [name, [...codes].map((code) => (code < 0 ? null : words[code]))];
    }),
  );
}

const plain = (value: number): number | string =>
  Number.isNaN(value) || value === NO_DAY ? "none" : Number(value.toPrecision(10));

async function outcome(name: string): Promise<Record<string, string>> {
  const folder = join(ROOT, name);
  try {
    const fleet = smallFleet(readFileSync(join(folder, "exports.yaml"), "utf8"));
    const { exports, problems } = await read(fleet, exportFolder(folder));
    return {
      "expected-rejected.csv": REJECTED_CSV_HEADING + problems.map(rejectedCsvLine).join(""),
      "expected-ledger.jsonl": summary(exports),
    };
  } catch (error) {
    if (!(error instanceof RotorwearError)) throw error;
    return { "expected-error.txt": `exit ${error.exitCode}: ${error.message}\n` };
  }
}

describe("readExports(fleet, exportFolder(awkward/NAME), onProblem)", () => {
  for (const name of readdirSync(ROOT).sort()) {
    const story = readFileSync(join(ROOT, name, "exports.yaml"), "utf8")
      .split("\n")[0]!
      .slice(2);
    it(`${name}: ${story}`, async () => {
      const files = await outcome(name);
      const expected = readdirSync(join(ROOT, name)).filter((file) => file.startsWith("expected-"));
      if (expected.length > 0) expect(Object.keys(files).sort()).toEqual(expected.sort());
      for (const [file, text] of Object.entries(files)) {
        const path = join(ROOT, name, file);
        if (!existsSync(path) && !process.env.CI) writeFileSync(path, text);
        expect(text).toBe(existsSync(path) ? readFileSync(path, "utf8") : "a file that was committed");
      }
    });
  }
});
