/** The guide's SQL against the program: the same lives and the same sums from the same exports. */
import { mkdir, mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import type { DuckDBConnection, Json } from "@duckdb/node-api";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { readFleet } from "../../src/fleet/read-fleet.ts";
import { readExports } from "../../src/ingest/read-exports.ts";
import { exportFolder } from "../../src/ingest/read-files.ts";
import { fleetLives } from "../../src/interval/fleet-lives.ts";
import { lastMonthEnd } from "../../src/interval/reported-day.ts";
import { runMonth } from "../../src/pipeline.ts";
import { groupReadings } from "../../src/records/event-table.ts";
import type { ReadExports } from "../../src/records/exports.ts";
import { type GroupKey, type Life, sameGroup } from "../../src/records/life.ts";
import type { Lives } from "../../src/records/lives.ts";
import { renderMonth } from "../../src/report/render-month.ts";
import { simulateLargeFleet } from "../../src/simulate/large-fleet.ts";
import { type Day, isoDate } from "../../src/units.ts";
import { componentSums } from "../../src/wear/component-sums.ts";
import { fitMixedModel } from "../../src/wear/mixed-model.ts";
import { reduced, rowsOf, writeIntervals } from "./warehouse.ts";

/** A seed whose fleet has every end of a life, and a component taken off twice without a look between. */
const SEED = 12;
/** Hours come from quotients of sums that were taken in another order. */
const HOURS_TOLERANCE = 1e-9;
/** Of sums of squares and products, centred before they are squared. */
const RELATIVE_TOLERANCE = 1e-12;

let folder: string;
let fleetText = "";
let exports: ReadExports;
let own: Lives;
let connection: DuckDBConnection;

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), "rotorwear-sql-"));
  for await (const { path, bytes } of simulateLargeFleet(SEED, 1)) {
    await mkdir(dirname(join(folder, path)), { recursive: true });
    await writeFile(join(folder, path), bytes);
    if (path === "fleet.yaml") fleetText = Buffer.from(bytes).toString("utf8");
  }
  const fleet = readFleet(fleetText, "fleet.yaml");
  exports = await readExports(fleet, exportFolder(folder), () => {});
  const asOf = lastMonthEnd(exports.latestDay);
  own = fleetLives(fleet, exports, asOf);
  const intervals = join(folder, "intervals.csv");
  await writeIntervals(intervals, fleet, asOf);
  connection = await reduced(join(folder, "exports"), intervals, asOf);
});

afterAll(async () => {
  connection?.closeSync();
  await rm(folder, { recursive: true, force: true });
});

const keyOf = (life: Life): string =>
  [life.group.part, exports.components.serial[life.component], life.life, life.piece].join(" ");

async function byKey(table: string): Promise<Map<string, Record<string, Json>>> {
  const rows = await rowsOf(
    connection,
    `select part || ' ' || serial || ' ' || life || ' ' || piece as key, * from ${table}`,
  );
  return new Map(rows.map((row) => [String(row.key), row]));
}

const dayText = (day: Day | null) => (day === null ? null : isoDate(day));

/** A life as lives.sql writes it: what must be equal, and what may differ in its last digits. */
function written(life: Life) {
  return {
    words: {
      environment: life.group.environment,
      standard: life.group.standard,
      end: life.end,
      late_entry: life.lateEntry,
      environment_from: life.environmentFrom,
      aircraft: life.aircraft,
      position: life.position,
      first_day: dayText(life.firstDay),
      last_day: dayText(life.lastDay),
      event_day: dayText(life.eventDay),
      removed_day: dayText(life.removedDay),
      removal_mode: life.removal?.mode ?? null,
      removed_in_service: life.removal?.inService ?? null,
      no_fault_found: life.removal?.noFaultFound ?? null,
    } as Record<string, Json>,
    hours: {
      entry_hours: life.entryHours,
      lower_hours: life.lowerHours,
      upper_hours: life.upperHours === Number.POSITIVE_INFINITY ? null : life.upperHours,
      observed_from_hours: life.observedFromHours,
      last_hours: life.lastHours,
      functional_failure_hours: life.functionalFailureHours,
    } as Record<string, number | null>,
  };
}

const nearly = (a: number | null, b: Json | undefined): boolean =>
  a === null ? b === null : typeof b === "number" && Math.abs(a - b) <= HOURS_TOLERANCE;

describe("lives.sql", () => {
  it("cuts the same lives as the program, every one with the same ends, days and hours", async () => {
    const made = await byKey("lives");
    const different = own.lives.flatMap((life) => {
      const theirs = made.get(keyOf(life)) ?? {};
      const { words, hours } = written(life);
      const wrong = [
        ...Object.keys(words).filter((name) => words[name] !== theirs[name]),
        ...Object.keys(hours).filter((name) => !nearly(hours[name]!, theirs[name])),
      ];
      return wrong.length === 0 ? [] : [`${keyOf(life)}: ${wrong.join(", ")}`];
    });
    expect(different).toEqual([]);
    expect(made.size).toBe(own.lives.length);
    expect(await rowsOf(connection, "select * from unclear")).toEqual([]);
  });

  it("meets every rule on the way, in these exports", async () => {
    const ends = new Set(own.lives.map(({ end }) => end));
    for (const end of [
      "over limit found",
      "functional failure",
      "early removal",
      "unread removal",
      "removed",
      "moved",
    ])
      expect(ends).toContain(end);
    const leftOut = await rowsOf(connection, "select count(*)::integer as rows from left_out");
    expect(leftOut).toEqual([{ rows: own.exclusions.length }]);
    const offTwice = await rowsOf(
      connection,
      "select count(*)::integer as rows from kept_followers where kind = 'removal' and kind_before = 'removal'",
    );
    expect(offTwice[0]!.rows).toBeGreaterThan(0);
  });

  it("lists the same looks of each life", async () => {
    const made = await byKey("lives");
    const different = own.lives.filter((life) => {
      const { look_hours: hours, look_days: days } = made.get(keyOf(life)) ?? {};
      const list = (text: Json | undefined) =>
        String(text ?? "")
          .split(" ")
          .filter((word) => word !== "");
      return (
        list(hours).map(Number).toString() !== life.lookHours.toString() ||
        list(days).toString() !== life.lookDays.map(isoDate).toString()
      );
    });
    expect(different).toEqual([]);
  });
});

describe("sums.sql", () => {
  it("gives the same count, means and centred sums of every piece, to 1e-12", async () => {
    const made = await byKey("sums");
    const read = own.lives.filter(({ readingHours }) => readingHours.length > 0);
    expect(made.size).toBe(read.length);
    const sums = componentSums({
      rows: read.reduce((sum, life) => sum + life.readingHours.length, 0),
      components: read.length,
      component: Int32Array.from(read.flatMap((life, i) => life.readingHours.map(() => i))),
      hours: Float64Array.from(read.flatMap((life) => life.readingHours)),
      wearMm: Float64Array.from(read.flatMap((life) => life.readingWearMm)),
    });
    const far = read.flatMap((life, i) => {
      const theirs = made.get(keyOf(life)) ?? {};
      const [n, hh, ww] = [sums.count[i]!, sums.hoursSquared[i]!, sums.wearSquared[i]!];
      // A product's own size may be nothing where rises and falls cancel; what it is made of is not.
      const away = {
        readings: Math.abs(Number(theirs.readings) - n),
        mean_hours: Math.abs(Number(theirs.mean_hours) / sums.meanHours[i]! - 1),
        mean_wear_mm:
          Math.abs(Number(theirs.mean_wear_mm) - sums.meanWearMm[i]!) / Math.max(sums.meanWearMm[i]!, 0.01),
        hours_squared: Math.abs(Number(theirs.hours_squared) - hh) / (hh || 1),
        hours_wear: Math.abs(Number(theirs.hours_wear) - sums.hoursWear[i]!) / (Math.sqrt(hh * ww) || 1),
        wear_squared: Math.abs(Number(theirs.wear_squared) - ww) / (ww || 1),
      };
      const wrong = Object.entries(away).filter(([, value]) => !(value <= RELATIVE_TOLERANCE));
      return wrong.length === 0 ? [] : [`${keyOf(life)}: ${JSON.stringify(Object.fromEntries(wrong))}`];
    });
    expect(far).toEqual([]);
  });
});

describe("a month from the tables", () => {
  it("has the program's own fits of a group, says on every page what it lacks, and fails the rules that need it", async () => {
    const group: GroupKey = { part: "grip bearing", environment: "highland", standard: "shielded" };
    const lives = own.lives.filter((life) => sameGroup(life.group, group));
    const where = "part = 'grip bearing' and environment = 'highland' and standard = 'shielded'";
    const columns = "part, serial, life, piece";
    for (const [table, rows] of [
      ["lives", `select * from lives where ${where}`],
      ["sums", `select * from sums semi join (select * from lives where ${where}) using (${columns})`],
    ])
      await connection.run(
        `copy (${rows} order by ${columns}) to '${join(folder, `${table}.csv`)}' (header)`,
      );
    const text = fleetText.replace(
      /\n {2}wear: [\s\S]*?(?=\n\n)/,
      "\n  lives: { files: lives.csv }\n  sums: { files: sums.csv }",
    );
    const month = await runMonth({
      fleet: readFleet(text, "fleet.yaml"),
      fleetText: text,
      source: exportFolder(folder),
      asOf: null,
      program: "test",
      onProblem: () => {},
    });
    const [made] = month.groups;
    expect(month.groups).toHaveLength(1);
    expect(made!.lives).toHaveLength(lives.length);
    const fit = fitMixedModel(componentSums(groupReadings(lives).table), 0.95);
    if (fit.kind !== "fitted" || made?.wear.fit == null) throw new Error("expected a fit of both");
    for (const side of ["estimate", "lower", "upper"] as const)
      expect(made.wear.fit.ratePer1000H[side]! / fit.rateMmPer1000Hours[side]).toBeCloseTo(1, 8);
    const failed = month.recommendations[0]!.evidence.filter(({ outcome }) => outcome === "failed");
    expect(failed.map(({ rule }) => rule)).toEqual(
      expect.arrayContaining(["rejected rows", "no heaping", "upper exponent"]),
    );
    const pages = (await renderMonth(month)).filter(({ path }) => path.endsWith(".html"));
    expect(pages.length).toBeGreaterThan(4);
    expect(pages.filter((page) => !page.text.includes("no robust slope, no power form"))).toEqual([]);
  });
});
