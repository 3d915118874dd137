import Papa from "papaparse";
import { describe, expect, it } from "vitest";
import { asciiLine, digest } from "../../../src/report/files/digest.ts";
import { lineage, livesCsv } from "../../../src/report/files/lives-csv.ts";
import { recommendationsCsv } from "../../../src/report/files/recommendations-csv.ts";
import { runJson } from "../../../src/report/files/run-json.ts";
import { watchlistCsv } from "../../../src/report/files/watchlist-csv.ts";
import { published } from "../../../src/units.ts";
import { makeMonth } from "../../support/make-month.ts";
import { fullMonth } from "../full-month.ts";
import { hostileMonth } from "../hostile-month.ts";

/** CSV text read by another reader than the one the program uses. */
function read(text: string): Record<string, string>[] {
  const { data, errors } = Papa.parse<Record<string, string>>(text, { header: true, skipEmptyLines: true });
  expect(errors).toEqual([]);
  return data;
}

describe("runJson(month)", () => {
  const month = fullMonth();
  const run = JSON.parse(runJson(month));

  it("has the members of rotorwear/run/1, in their order", () => {
    expect(Object.keys(run)).toEqual([
      "schema",
      "as_of",
      "program",
      "settings_sha256",
      "inputs",
      "act_now",
      "groups",
      "recommendations",
      "alerts",
      "watch_list",
      "changes",
    ]);
    expect(Object.keys(run.recommendations[0])).toEqual([
      "task",
      "part",
      "environment",
      "standard",
      "basis",
      "present_interval_h",
      "recommendation",
      "recommended_interval_h",
      "candidate_h",
      "row",
      "governing",
      "risks",
      "evidence",
      "borrowed",
    ]);
    expect(Object.keys(run.inputs[0])).toEqual([
      "file",
      "kind",
      "sha256",
      "read",
      "accepted",
      "rejected",
      "repeated",
    ]);
    expect(Object.keys(run.recommendations[0].evidence[0])).toEqual([
      "rule",
      "outcome",
      "found",
      "needed",
      "settle",
    ]);
  });

  it("lists the risks of every interval on the grid, with 10 significant digits, null where there is none", () => {
    const first = month.recommendations[0]!;
    expect(run.recommendations[0].risks).toHaveLength(first.risks.length);
    const risk = first.risks[3]!;
    expect(run.recommendations[0].risks[3]).toEqual({
      interval_h: risk.intervalH,
      over_limit_per_inspection: {
        life: {
          estimate: published(risk.overLimitPerInspection.life!.estimate),
          lower: published(risk.overLimitPerInspection.life!.lower!),
          upper: published(risk.overLimitPerInspection.life!.upper!),
        },
        wear: {
          estimate: published(risk.overLimitPerInspection.wear!.estimate),
          lower: published(risk.overLimitPerInspection.wear!.lower!),
          upper: published(risk.overLimitPerInspection.wear!.upper!),
        },
      },
      unsafe_before_seen: {
        estimate: published(risk.unsafeBeforeSeen!.estimate),
        lower: published(risk.unsafeBeforeSeen!.lower!),
        upper: published(risk.unsafeBeforeSeen!.upper!),
      },
    });
    expect(run.recommendations[3].risks[0].over_limit_per_inspection).toEqual({ life: null, wear: null });
  });

  it("accounts for every row: repeated is identical and superseded", () => {
    expect(run.inputs[0]).toMatchObject({ read: 1004, accepted: 990, rejected: 2, repeated: 12 });
    expect(run.act_now[0]).toMatchObject({ serial: "0153", source: "exports/wear-2026-03.csv:412" });
  });

  it("keeps a refusal to name an interval as null", () => {
    const recommendations = month.recommendations.map((one) => ({ ...one, recommendedIntervalH: null }));
    const again = JSON.parse(runJson({ ...month, recommendations }));
    expect(again.recommendations[0].recommended_interval_h).toBeNull();
  });
});

describe("CSV files", () => {
  it("give serials as text and one row a recommendation, watched component or piece of life", async () => {
    const month = makeMonth();
    const recommendations = read(await recommendationsCsv(month));
    expect(recommendations).toHaveLength(month.recommendations.length);
    expect(recommendations[2]).toMatchObject({
      recommendation: "shorten",
      present_interval_h: "300",
      recommended_interval_h: "150",
      rules_passed: "2",
      rules_asked: "2",
    });
    expect(read(watchlistCsv(month))[0]).toMatchObject({ serial: "0031", last_reading_mm: "0.47" });
    const lives = read([...livesCsv(month)].join(""));
    expect(lives).toHaveLength(month.groups.reduce((sum, group) => sum + group.lives.length, 0));
    expect(lives[0]!.serial).toBe("0001");
    expect(lives[0]!.rows).toMatch(/^exports\/wear-2026-03\.csv:\d+( \d+)*$/);
    const running = lives.filter((life) => life.end === "still fitted");
    expect(running.length).toBeGreaterThan(0);
    expect(new Set(running.map((life) => life.upper_h))).toEqual(new Set([""]));
  });

  it("leave no cell that a spreadsheet would run, whatever the exports say", async () => {
    const month = hostileMonth();
    const serials = month.serials.map(
      (serial, index) => ["=1+1", "+1", "-1+2", "@x", "\tx"][index % 5]! + serial,
    );
    for (const text of [
      [...livesCsv({ ...month, serials })].join(""),
      await recommendationsCsv(month),
      watchlistCsv(month),
    ]) {
      for (const row of read(text)) {
        for (const cell of Object.values(row)) expect(/^[=+@\t\r]|^-(?!\d+(\.\d+)?$)/.test(cell)).toBe(false);
      }
    }
    expect(read([...livesCsv({ ...month, serials })].join(""))[0]!.serial!.startsWith("'=1+1")).toBe(true);
  });
});

describe("lineage(rows, fileName)", () => {
  it("names each file once, with its lines", () => {
    const rows = [
      { kind: "wear", file: 0, line: 12 },
      { kind: "removals", file: 1, line: 4 },
      { kind: "wear", file: 0, line: 19 },
    ] as const;
    expect(lineage(rows, (file) => ["wear.csv", "removals.csv"][file]!)).toBe(
      "wear.csv:12 19; removals.csv:4",
    );
  });
});

describe("digest(month)", () => {
  it("is at most ten lines of plain ASCII, act now first", () => {
    for (const month of [makeMonth(), hostileMonth(), makeMonth({ actNow: [], recommendations: [] })]) {
      const lines = digest(month).split("\n");
      expect(lines.pop()).toBe("");
      expect(lines.length).toBeLessThanOrEqual(10);
      for (const line of lines) expect(/^[\x20-\x7e]{1,200}$/.test(line)).toBe(true);
    }
    const lines = digest(makeMonth()).split("\n");
    expect(lines[0]).toBe(
      "Saltpan and Highland test fleet, March 2026: 2 findings to act on now; 1 interval to shorten, 1 to extend, 2 to keep and 1 without enough evidence.",
    );
    expect(lines[1]).toMatch(/^ACT NOW: fitted at or over replace-at limit: 0153, RW-03, arm 2: 0\.56 mm/);
    expect(lines[3]).toBe("Grip bearing, sandy, plain: Shorten 300 h to 150 h; 2 of 2 rules passed.");
  });

  it("keeps to ten lines however many there are, and says how many it left out", () => {
    const month = makeMonth();
    const actNow = Array.from({ length: 40 }, () => month.actNow[0]!);
    const lines = digest({ ...month, actNow })
      .trimEnd()
      .split("\n");
    expect(lines).toHaveLength(10);
    expect(lines.join("\n")).toContain("ACT NOW: 36 more; see index.html.");
    expect(lines.join("\n")).toContain("1 shorten, 1 extend, 2 keep, 1 not enough evidence; see index.html.");
  });

  it("keeps the source row of a line that is too long", () => {
    const month = makeMonth();
    const source = "exports/installed-2026-09.csv:1200";
    const [first] = month.actNow;
    const [, line] = digest({ ...month, actNow: [{ ...first!, found: "long ".repeat(60), source }] }).split(
      "\n",
    );
    expect(line).toHaveLength(200);
    expect(line).toMatch(/^ACT NOW: .* \.\.\., exports\/installed-2026-09\.csv:1200$/);
  });

  it("puts first what has nowhere shorter to go, then the risk that is most times the acceptable one", () => {
    const month = makeMonth();
    const shorten = month.recommendations.find(({ recommendation }) => recommendation === "shorten")!;
    const named = (standard: string, estimate: number, recommendedIntervalH: number | null) => ({
      ...shorten,
      recommendedIntervalH,
      group: { ...shorten.group, standard },
      risks: shorten.risks.map((risk) => ({
        ...risk,
        unsafeBeforeSeen: { estimate, lower: null, upper: null },
        overLimitPerInspection: { life: null, wear: null },
      })),
    });
    const recommendations = [
      named("mild", 0.0016, 250),
      named("worse", 0.4, 250),
      named("worst", 0.01, null),
    ];
    const lines = digest({ ...month, actNow: [], recommendations }).split("\n");
    expect(lines.slice(1, 4).map((line) => /sandy, (\w+):/.exec(line)?.[1])).toEqual([
      "worst",
      "worse",
      "mild",
    ]);
  });

  it("writes other signs as what they stand for", () => {
    expect(asciiLine("300\u202fh → 400\u202fh “x” – é\n")).toBe('300 h -> 400 h "x" - ??');
  });
});
