import { describe, expect, it } from "vitest";
import { readFleet } from "../../src/fleet/read-fleet.ts";
import { exportsBy, undatedExports } from "../../src/ingest/exported-by.ts";
import { readExports } from "../../src/ingest/read-exports.ts";
import { runMonth } from "../../src/pipeline.ts";
import { ExportError } from "../../src/problems.ts";
import type { PastAnswer } from "../../src/replay/record-result.ts";
import { monthEnds, replayMonths } from "../../src/replay-months.ts";
import { isoDate, isoMonth } from "../../src/units.ts";
import { DATED, HEADING, memory, monthlyFiles, wearRows } from "../support/dated-exports.ts";
import { SMALL_FLEET_YAML } from "../support/fleet-yaml.ts";
import { dayOfText } from "../support/make-exports.ts";

const files = monthlyFiles(wearRows());
/** A correction of a row of 2025-05, exported in 2025-11: a reading that was good becomes one far over the limit. */
const corrected = new Map(files);
const wrong = files
  .get("wear-2025-05.csv")!
  .split("\n")
  .find((line) => line.startsWith("P"))!;
corrected.set(
  "wear-2025-11.csv",
  `${files.get("wear-2025-11.csv")}${wrong.replace(/^(([^,]*,){3})[^,]*/, "$10.790")}\n`,
);

const replay = (from: ReadonlyMap<string, string>, fleetText: string, months: number, asOf: string) =>
  replayMonths({
    fleet: readFleet(fleetText, "fleet.yaml"),
    fleetText,
    source: memory(from),
    asOf: dayOfText(asOf),
    months,
    program: "rotorwear test",
  });

const LATER_DECISION = `${DATED}decisions:
  - { task: grip bearing wear check, environment: temperate, interval: 350 h, on: 2025-10-15, outcome: refused, revisit: 500 lives over 900 h }
`;

describe("replayMonths(options)", () => {
  it("answers a month as its report does from the files exported by then; later corrections and decisions are unknown", async () => {
    const then = new Map([...corrected].filter(([path]) => path <= "wear-2025-08.csv"));
    const report = await runMonth({
      fleet: readFleet(DATED, "fleet.yaml"),
      fleetText: DATED,
      source: memory(then),
      asOf: dayOfText("2025-08-31"),
      program: "rotorwear test",
      onProblem: () => {},
    });
    const expected = report.recommendations.map(
      (one): PastAnswer => ({
        task: one.task,
        group: one.group,
        basis: one.basis,
        presentIntervalH: one.presentIntervalH,
        answer: one.recommendation,
        row: one.row,
        recommendedIntervalH: one.recommendedIntervalH,
        candidateH: one.candidateH,
        longestByBoundH: one.longestByBoundH,
        governing: one.governing,
        failed: one.evidence.filter(({ outcome }) => outcome === "failed").map(({ rule }) => rule),
      }),
    );
    const record = await replay(corrected, LATER_DECISION, 5, "2025-12-31");
    expect(record.months.map(({ month }) => month)).toEqual(monthsTo("2025-12-31", 5));
    expect(record.months[0]!.answers).toEqual(expected);
    expect(record.months[0]!.after[0]!.counts.length).toBeGreaterThan(0);

    // The later looks are those of the whole record, and each counts once in the totals.
    const [month] = record.months;
    const rows = wearRows().filter(({ day }) => day > month!.asOf);
    const [life] = record.totals;
    expect(life!.looks).toBe(rows.length);
    const over = rows.filter(({ text }) => Number(text.split(",")[3]) >= 0.5).length;
    expect(month!.after[0]!.found).toBe(over);

    // Chances and counts fit a fleet whose rates are what the lines take them for.
    expect(life!.p).toBeGreaterThan(0.01);
    expect(record.watch!.p).toBeGreaterThan(0.01);
    expect(record.watch!.looks).toBeGreaterThan(10);
  });

  it("skips month-ends of which nothing can be known, saying why, and refuses where none is left", async () => {
    const late = new Map([...files].filter(([path]) => path >= "wear-2025-11.csv"));
    const failed = replay(late, DATED, 2, "2025-11-30");
    await expect(failed).rejects.toThrow(ExportError);
    await expect(failed).rejects.toThrow(
      /2025-10: no export of looks or removals was there yet; 2025-11: no life could be made of the \d+ components/,
    );
    await expect(replay(files, DATED, 2, "2027-01-31")).rejects.toThrow(/they end on 2025-12-\d\d/);
    const record = await replay(files, DATED, 4, "2023-08-31");
    expect(record.skipped[0]).toEqual({
      month: "2023-05",
      why: expect.stringMatching(/^no life could be made of the \d+ components on record yet: /),
    });
    expect(record.months.at(-1)!.month).toBe("2023-08");
    expect(record.skipped.length + record.months.length).toBe(4);
  });

  it("has the month-ends up to the as-of day, whatever day that is", () => {
    expect(monthEnds(dayOfText("2026-03-15"), 3).map(isoDate)).toEqual([
      "2025-12-31",
      "2026-01-31",
      "2026-02-28",
    ]);
    expect(monthEnds(dayOfText("2024-02-29"), 2).map(isoDate)).toEqual(["2024-01-31", "2024-02-29"]);
  });
});

const monthsTo = (day: string, count: number): string[] =>
  monthEnds(dayOfText(day), count).map((end) => isoMonth(end));

describe("exportsBy(fleet, source, day) and readExports with exportedBy", () => {
  const COLUMN = SMALL_FLEET_YAML.replace(
    "files: wear.csv",
    "files: wear-*.csv\n    exported: { column: Exported }",
  );
  const text = (lines: readonly string[]) => [`${HEADING},Exported`, ...lines, ""].join("\n");
  const known = [
    "A,2025-03-01,300,0.10,T1,Valley,P,2025-03-31",
    "B,2025-03-02,300,0.12,T2,Valley,P,2025-03-31",
    "B,bad,600,0.2,T2,Valley,P,2025-03-31",
  ];
  const later = [
    "A,2025-03-01,300,0.40,T1,Valley,P,2025-06-30",
    "C,2025-03-04,300,x,T1,Valley,P,2025-06-30",
    "A,2025-06-01,600,0.45,T1,Nowhere,P,2025-06-30",
  ];

  it("reads a table that tells each row's export as it stood on a day", async () => {
    const fleet = readFleet(COLUMN, "fleet.yaml");
    const day = dayOfText("2025-04-30");
    const whole = memory(new Map([["wear-all.csv", text([...known, ...later])]]));
    const cut = memory(new Map([["wear-all.csv", text(known)]]));
    const then = await exportsBy(fleet, whole, day);
    const found = await readExports(then.fleet, then.source, () => {}, { exportedBy: day });
    const expected = await readExports(fleet, cut, () => {});
    expect([...found.wear!.wearMm]).toEqual([0.1, 0.12]);
    expect(found.wear!.wearMm).toEqual(expected.wear!.wearMm);
    expect(found.latestDay).toBe(expected.latestDay);
    expect(found.unknownWords).toEqual(expected.unknownWords);
    const { read, accepted, rejected, superseded, unassigned, exported } = found.files[0]!;
    const ledger = expected.files[0]!;
    expect({ read, accepted, rejected, superseded, unassigned, exported }).toEqual({
      read: ledger.read,
      accepted: ledger.accepted,
      rejected: ledger.rejected,
      superseded: ledger.superseded,
      unassigned: ledger.unassigned,
      exported: ledger.exported,
    });
  });

  it("leaves out later files by their names, and says which exports have no dates", async () => {
    const then = await exportsBy(readFleet(DATED, "fleet.yaml"), memory(files), dayOfText("2023-06-30"));
    expect(await then.source.list(["wear-*.csv"])).toEqual(
      [...files.keys()].filter((path) => path <= "wear-2023-06.csv").sort(),
    );
    const none = await exportsBy(readFleet(DATED, "fleet.yaml"), memory(files), dayOfText("2022-06-30"));
    expect([none.missing, none.fleet.exports.wear]).toEqual([["wear"], undefined]);
    expect(undatedExports(readFleet(SMALL_FLEET_YAML, "fleet.yaml"))).toEqual(["wear"]);
    expect(undatedExports(readFleet(COLUMN, "fleet.yaml"))).toEqual([]);
  });
});
