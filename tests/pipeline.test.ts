import { describe, expect, it } from "vitest";
import { readFleet } from "../src/fleet/read-fleet.ts";
import type { ExportSource } from "../src/ingest/source.ts";
import type { Month } from "../src/interval/month-result.ts";
import { seededRandom } from "../src/math/random.ts";
import { runMonth } from "../src/pipeline.ts";
import { isoDate } from "../src/units.ts";
import { SMALL_FLEET_YAML } from "./support/fleet-yaml.ts";
import { dayOfText } from "./support/make-exports.ts";

const HEADING = "Serial,Inspected,Hours,Wear,Tail,Base,Ring";

/** 60 components on 15 aircraft, looked at every 300 h or so from new, replaced at 0.50 mm; median rate in mm per 1000 h. */
function wearRows(medianRate: number, factor = 1, seed = 3): string[] {
  const random = seededRandom(seed);
  const rows: string[] = [];
  for (let component = 0; component < 60; component++) {
    const rate = medianRate * Math.exp(0.3 * random.normal());
    const start = dayOfText("2019-01-01") + Math.round(300 * random.uniform());
    let hours = 0;
    for (let look = 0; look < 8; look++) {
      hours += 300 * (1 + 0.08 * random.uniform());
      const wear = factor * ((rate * hours) / 1000 + 0.01 * random.normal() + 0.02);
      const day = isoDate(Math.round(start + hours));
      rows.push(
        `S${component},${day},${hours.toFixed(1)},${Math.max(0, wear).toFixed(3)},A${component % 15},Valley,P`,
      );
      if (wear >= 0.5) break;
    }
  }
  return rows;
}

const REMOVALS_HEADING = "Serial,Removed,Hours,Cause,Found";
const FLEET_YAML = SMALL_FLEET_YAML.replace(
  "environments:",
  `  removals:
    files: removals.csv
    clock: since new
    columns: { component: Serial, date: Removed, hours: Hours, cause: Cause, found: Found }
causes: { wear: [WORN], not a failure: [SWAP] }
found_at: { SHOP: inspection, SVC: service }
environments:`,
);

const source = (files: Readonly<Record<string, string>>): ExportSource => ({
  list: async (patterns) => [...patterns],
  async *open(name) {
    yield new TextEncoder().encode(files[name]);
  },
});
const run = (
  rows: readonly string[],
  fleetText = FLEET_YAML,
  removals: readonly string[] = [],
): Promise<Month> =>
  runMonth({
    fleet: readFleet(fleetText, "fleet.yaml"),
    fleetText,
    source: source({
      "wear.csv": [HEADING, ...rows, ""].join("\n"),
      "removals.csv": [REMOVALS_HEADING, ...removals, ""].join("\n"),
    }),
    asOf: null,
    program: "rotorwear test",
    onProblem: () => {},
  });

/** A month without what rightly depends on the order of rows: lines, hashes. */
const withoutLines = (month: Month) =>
  JSON.stringify(
    { ...month, inputs: [], groups: month.groups.map((group) => ({ ...group, lives: [] })) },
    (key, value) => (key === "source" ? "" : value),
  );

describe("runMonth(options)", () => {
  it("accounts for every row, and reports the last month-end that the exports reach", async () => {
    const rows = wearRows(0.1);
    const month = await run([...rows, "S0,2030-02-30,100,0.1,A0,Valley,P"]);
    const [input] = month.inputs;
    expect(input).toMatchObject({ read: rows.length + 1, rejected: 1, accepted: rows.length });
    expect(input!.used + input!.unassigned + input!.afterAsOf).toBe(input!.accepted);
    expect(month.asOf).toBe(dayOfText(`${month.month}-01`) === null ? -1 : month.asOf);
    expect(isoDate(month.asOf + 1).endsWith("-01")).toBe(true);
  });

  it("extends a slow fleet's interval where every rule passes, by no more than the largest change", async () => {
    const [recommendation] = (await run(wearRows(0.06))).recommendations;
    expect([recommendation!.recommendation, recommendation!.row]).toEqual(["extend", 5]);
    expect(recommendation!.evidence.filter(({ outcome }) => outcome === "failed")).toEqual([]);
    expect(recommendation!.recommendedIntervalH).toBeLessThanOrEqual(450);
    expect(recommendation!.sentence).toMatch(
      /^Extend from 300 h to \d+ h: all \d+ evidence rules that apply pass\. /,
    );
  });

  it("extends nothing where failures in service can't be seen, or may have been", async () => {
    const rows = wearRows(0.06);
    const asked = async (fleetText: string, ...removals: string[]) => {
      const [recommendation] = (await run(rows, fleetText, removals)).recommendations;
      const { found } = recommendation!.evidence.find(({ rule }) => rule === "functional failures")!;
      return [recommendation!.recommendation, found];
    };
    const none = "not known: no removals are exported";
    expect(await asked(SMALL_FLEET_YAML)).toEqual(["keep", none]);
    // A reading on the day of the removal, so that the wear itself is known; and hours that nobody recorded.
    const [serial, day, hours] = rows
      .filter((row) => row.startsWith("S5,"))
      .at(-1)!
      .split(",");
    const removed = [serial, day, hours].join(",");
    const first = "0 in 24 months, and 1 removal that may be one: removals.csv:2, since ";
    const refused = await asked(FLEET_YAML, `${serial},${day},,WORN,SVC`);
    expect(refused).toEqual(["keep", `${first}the row was rejected`]);
    expect((await asked(FLEET_YAML, `${removed},WORN,SHOP`))[0]).toBe("extend");
  });

  it("shortens a fast fleet's interval, established", async () => {
    const [recommendation] = (await run(wearRows(0.6))).recommendations;
    expect([recommendation!.recommendation, recommendation!.row]).toEqual(["shorten", 1]);
    expect(recommendation!.sentence).toMatch(
      /^Shorten[^.]*\. At 300 h with 95 % confidence at least [\d.]+ % .*; [\d.]+ % is acceptable\.$/,
    );
  });

  it("gives the same month whatever the order of the rows", async () => {
    const rows = wearRows(0.15);
    const random = seededRandom(5);
    const shuffled = rows
      .map((row) => [random.uniform(), row] as const)
      .sort((a, b) => a[0] - b[0])
      .map(([, row]) => row);
    expect(withoutLines(await run(shuffled))).toBe(withoutLines(await run(rows)));
  });

  it("never allows more hours where every reading is larger", async () => {
    const longest: (number | null)[] = [];
    for (const factor of [1, 1.3, 2, 4]) {
      const [recommendation] = (await run(wearRows(0.08, factor))).recommendations;
      longest.push(recommendation!.longestByBoundH);
    }
    for (let i = 1; i < longest.length; i++) expect(longest[i] ?? 0).toBeLessThanOrEqual(longest[i - 1] ?? 0);
    expect(longest[0]).toBeGreaterThan(longest[3] ?? 0);
  });

  it("models some aircraft of a very large group, counts and watches all, and says so", async () => {
    const rows = [
      ...wearRows(0.15),
      ...wearRows(0.15, 1, 4),
      ...wearRows(0.15, 1, 5),
      ...wearRows(0.15, 1, 6),
    ].map((row, k) => row.replace(/^S/, `S${Math.floor(k / 480)}`));
    const fleetText = `${FLEET_YAML}modelled_components: 200\n`;
    const [month, whole] = [await run(rows, fleetText), await run(rows)];
    const [group] = month.groups;
    expect(group!.components).toBe(whole.groups[0]!.components);
    expect(group!.modelledComponents).toBeGreaterThanOrEqual(200);
    expect(group!.modelledComponents).toBeLessThan(group!.components);
    expect(group!.wear.components).toBe(group!.modelledComponents);
    expect(group!.looks).toBe(whole.groups[0]!.looks);
    expect(month.recommendations[0]!.counted).toEqual(whole.recommendations[0]!.counted);
    expect(month.recommendations[0]!.notKnown[0]).toMatch(
      new RegExp(
        `^Fits and bounds stand on ${group!.modelledComponents} of the ${group!.components} components`,
      ),
    );
    expect(whole.recommendations[0]!.notKnown[0]).not.toMatch(/stand on/);
    // Nearly the same components are watched, by nearly the same chances.
    const serials = (of: Month) => of.watchList.filter(({ chanceByNextLook }) => chanceByNextLook > 0.1);
    expect(serials(month).length / serials(whole).length).toBeGreaterThan(0.8);
    expect(serials(month).length / serials(whole).length).toBeLessThan(1.25);
  });

  it("counts what was found over the limit at 0 h, and leaves it out of the life line, saying so", async () => {
    const rows = wearRows(0.15);
    const month = await run([
      ...rows,
      "S90,2020-03-01,0,0.700,A1,Valley,P",
      "S91,2020-03-01,0.0,0.550,A2,Valley,P",
    ]);
    const plain = await run(rows);
    const [group, [recommendation]] = [month.groups[0]!, month.recommendations];
    expect(group.overLimitEvents).toBe(plain.groups[0]!.overLimitEvents + 2);
    expect(group.life.events).toBe(plain.groups[0]!.life.events);
    expect(group.life.weibull).toEqual(plain.groups[0]!.life.weibull);
    expect(recommendation!.notKnown.join(" ")).toContain("2 were found over the limit at 0 h.");
    expect(plain.recommendations[0]!.notKnown.join(" ")).not.toContain("at 0 h");
  });

  it("says not enough evidence of a handful of components, and keeps the approved interval", async () => {
    const few = wearRows(0.1).filter((row) => /^S[0-3],/.test(row));
    const [recommendation] = (await run(few)).recommendations;
    expect([recommendation!.recommendation, recommendation!.recommendedIntervalH]).toEqual([
      "not enough evidence",
      300,
    ]);
  });

  it("demonstrates less at a higher confidence, a lower detection chance or a lower unsafe-at limit", async () => {
    const rows = wearRows(0.12);
    const longest = async (from: string, to: string) => {
      const [recommendation] = (await run(rows, FLEET_YAML.replace(from, to))).recommendations;
      return recommendation!.longestByBoundH ?? 0;
    };
    const base = await longest("", "");
    expect(await longest("confidence: 0.95", "confidence: 0.99")).toBeLessThanOrEqual(base);
    expect(await longest("chance: 0.90", "chance: 0.83")).toBeLessThanOrEqual(base);
    expect(await longest("unsafe_at: 0.80 mm", "unsafe_at: 0.65 mm")).toBeLessThanOrEqual(base);
    expect(await longest("tolerance: 10%", "tolerance: 25%")).toBeLessThanOrEqual(base);
  });
});
