/** More of the definitions of lives and events, one case for each sentence, each drawn as a timeline (hours, wear in mm). */
import { describe, expect, it } from "vitest";
import { functionalFailures } from "../../src/interval/counted.ts";
import { fitWeibull } from "../../src/life/weibull-fit.ts";
import { overLimitTable } from "../../src/records/event-table.ts";
import type { Life } from "../../src/records/life.ts";
import { lifeKind } from "../../src/records/life-table.ts";
import { buildLives } from "../../src/records/lives.ts";
import { modeTables } from "../../src/records/mode-lives.ts";
import {
  dayOfText,
  type ExportsInput,
  type LookInput,
  makeExports,
  type RemovalInput,
} from "../support/make-exports.ts";

const AS_OF = dayOfText("2024-12-31");
const RUNNING = Number.POSITIVE_INFINITY;

/** Limit 0.50 mm, interval 300 h. A background component makes the records begin on 2020-01-01. */
function build(input: ExportsInput, airframeClock = false) {
  const exports = makeExports({
    ...input,
    looks: [
      { serial: "B", on: "2020-01-01", hours: 10, wear: 0.01 },
      { serial: "B", on: "2020-10-27", hours: 310, wear: 0.02 },
      ...(input.looks ?? []),
    ],
  });
  const built = buildLives(exports, {
    asOf: AS_OF,
    parts: [{ part: "grip bearing", replaceAtMm: 0.5 }],
    airframeClock,
    presentIntervalH: () => 300,
  });
  const number = exports.components.serial.indexOf("S");
  return {
    lives: built.lives.filter(({ component }) => component === number),
    exclusions: built.exclusions.filter(({ component }) => component === number),
  };
}
/** Looks of S every 300 h from new, about one hour a day. */
const looks = (wear: readonly LookInput["wear"][], environments: readonly string[] = []): LookInput[] =>
  wear.map((value, i) => ({
    serial: "S",
    on: ["2021-12-27", "2022-10-23", "2023-08-19", "2024-06-14"][i]!,
    hours: 300 * (i + 1),
    wear: value,
    environment: environments[i] ?? "temperate",
  }));
const hoursOf = (life: Life) => [life.entryHours, life.lowerHours, life.upperHours];

describe("a part left in over the limit (deferral, concession)", () => {
  it("keeps its event, and its later readings stay readings of the same life", () => {
    // new 0 ──── 300 (.30) ════ 600 (.55 over, left in) ──── 900 (.62) ──── 1200 (.70, removed)
    const { lives } = build({
      looks: looks([0.3, 0.55, 0.62, 0.7]),
      removals: [{ serial: "S", on: "2024-06-14", hours: 1200, mode: "wear", found: "inspection" }],
    });
    expect(lives.map(hoursOf)).toEqual([[0, 300, 600]]);
    expect(lives[0]).toMatchObject({
      end: "over limit found",
      lookHours: [300, 600],
      readingWearMm: [0.3, 0.55, 0.62, 0.7],
      removal: { mode: "wear", inService: false },
    });
  });

  it("keeps it in the environment it was found in, wherever it goes on", () => {
    // temperate 0 ──── 300 (.30) ════ 600 (.55 over, left in) │ sandy ──── 900 (.70)
    const { lives } = build({ looks: looks([0.3, 0.55, 0.7], ["temperate", "temperate", "sandy"]) });
    expect(lives.map((life) => [life.group.environment, ...hoursOf(life)])).toEqual([
      ["temperate", 0, 300, 600],
    ]);
  });
});

describe("functional failure: counted apart", () => {
  // new 0 ──── 300 (.20) ════ 480 failed in service, worn, confirmed
  const failed = build({
    looks: looks([0.2]),
    removals: [
      { serial: "S", on: "2022-06-25", hours: 480, mode: "wear", found: "service", finding: "confirmed" },
    ],
  }).lives;
  // new 0 ──── 300 (.20) ════ 600 (.55 over), removed as worn at the look
  const found = build({
    looks: looks([0.2, 0.55]),
    removals: [
      { serial: "S", on: "2022-10-23", hours: 600, mode: "wear", found: "inspection", finding: "confirmed" },
    ],
  }).lives;

  it("a find at a look is none; one in service is exact in its count and an interval in the over-limit table", () => {
    const recorded = { failures: 1, inLast24Months: 0, open: [], lacks: null };
    const count = functionalFailures([...failed, ...found], recorded, 0.95);
    expect(count.hours).toBe(480 + 600);
    expect([...failed, ...found].map((life) => life.functionalFailureHours)).toEqual([480, null]);
    // Garwood: the lower bound solves P(X >= 1) = 1 - exp(-m) = 0.05, one-sided.
    expect(count.per1000H!.lower).toBeCloseTo((-1000 * Math.log(0.95)) / 1080, 9);
    // And the upper one P(X <= 1) = (1 + m) exp(-m) = 0.05.
    const upper = (count.per1000H!.upper! * 1080) / 1000;
    expect((1 + upper) * Math.exp(-upper)).toBeCloseTo(0.05, 9);
    const table = overLimitTable([...failed, ...found]);
    expect([0, 1].map((row) => lifeKind(table, row))).toEqual(["interval", "interval"]);
    expect([...table.upperHours]).toEqual([480, 600]);
  });
});

describe("each failure mode, with the others as censoring", () => {
  it("a seal that failed in service ends the over-limit life at its last good look, and is exact in its own table", () => {
    // new 0 ──── 300 (.05) ···· 450 seal failed in service
    const { lives } = build({
      looks: looks([0.05]),
      removals: [
        { serial: "S", on: "2022-05-26", hours: 450, mode: "seal", found: "service", finding: "confirmed" },
      ],
    });
    expect(lives.map(hoursOf)).toEqual([[0, 300, RUNNING]]);
    const seal = modeTables(lives, Int32Array.of(-1))("seal");
    expect([seal.lowerHours[0], seal.upperHours[0]]).toEqual([450, 450]);
  });

  it("a seal the shop found no fault with is an event of no mode", () => {
    const { lives } = build({
      looks: looks([0.05]),
      removals: [
        {
          serial: "S",
          on: "2022-05-26",
          hours: 450,
          mode: "seal",
          found: "service",
          finding: "no fault found",
        },
      ],
    });
    expect(modeTables(lives, Int32Array.of(-1))("seal").upperHours[0]).toBe(RUNNING);
  });
});

describe("a component whose hours can't be known", () => {
  it("is excluded, counted and shown with its rows: airframe hours without a fitting to convert them by", () => {
    //  ? ···· airframe 5300 (.20) ──── airframe 5600 (.30): hours on the component unknown
    const { lives, exclusions } = build(
      {
        looks: [
          { serial: "S", on: "2022-01-10", hours: 5300, wear: 0.2 },
          { serial: "S", on: "2022-11-10", hours: 5600, wear: 0.3 },
        ],
      },
      true,
    );
    expect(lives).toEqual([]);
    expect(exclusions.map(({ reason, rows }) => [reason, rows.map(({ line }) => line)])).toEqual([
      ["its hours can't be known: no fitting to convert them by", [4]],
      ["its hours can't be known: no fitting to convert them by", [5]],
    ]);
  });
});

describe("hours nobody looked at prove nothing", () => {
  it("a life removed before its first look says nothing at all", () => {
    // new 0 ···· 250 off for convenience
    const { lives } = build({
      removals: [{ serial: "S", on: "2021-11-01", hours: 250, mode: "not a failure" }],
      fitted: [{ serial: "S", on: "2021-02-24", hours: 0 }],
    });
    expect(lives.map(hoursOf)).toEqual([[0, 0, RUNNING]]);
  });

  it("an event before the first look is left-censored only where the life was followed from new", () => {
    // new 0 ════ 300 (.60 over)
    const { lives } = build({ looks: looks([0.6]), fitted: [{ serial: "S", on: "2021-03-02", hours: 0 }] });
    expect(lives.map(hoursOf)).toEqual([[0, 0, 300]]);
    expect(lifeKind(overLimitTable(lives), 0)).toBe("left");
  });
});

describe("moves", () => {
  it("there and back again: three pieces, each entering at the last look before", () => {
    // temperate 0 ── 300 │ sandy ── 600 │ temperate ── 900 ════ 1200 (.55 over)
    const { lives } = build({
      looks: looks([0.1, 0.3, 0.4, 0.55], ["temperate", "sandy", "temperate", "temperate"]),
    });
    expect(lives.map((life) => [life.group.environment, ...hoursOf(life), life.end])).toEqual([
      ["temperate", 0, 300, RUNNING, "moved"],
      ["sandy", 300, 600, RUNNING, "moved"],
      ["temperate", 600, 900, 1200, "over limit found"],
    ]);
    // The likelihood of the two temperate pieces leaves out what happened in between.
    const temperate = overLimitTable(lives.filter(({ group }) => group.environment === "temperate"));
    expect([...temperate.entryHours]).toEqual([0, 600]);
  });
});

describe("a removal after a move", () => {
  // temperate 0 ──── 300 ──── 600 (.30) │ sandy ···· 850 off
  const off = (removal: Partial<RemovalInput>, wearMm = 0.3) =>
    build({
      looks: looks([0.1, wearMm]),
      removals: [
        { serial: "S", on: "2023-07-01", hours: 850, mode: "wear", environment: "sandy", ...removal },
      ],
    }).lives;
  const ends = (lives: readonly Life[]) =>
    lives.map((life) => [life.group.environment, ...hoursOf(life), life.end]);

  it("gives its event to where the component was by then, with the hours since its last look", () => {
    expect(ends(off({ found: "service", finding: "confirmed" }))).toEqual([
      ["temperate", 0, 600, RUNNING, "moved"],
      ["sandy", 600, 600, 850, "functional failure"],
    ]);
    const [before, after] = off({ found: "service", finding: "confirmed" });
    expect([before!.functionalFailureHours, after!.functionalFailureHours]).toEqual([null, 850]);
    expect(
      [before!, after!].map(({ observedFromHours, lastHours }) => lastHours - observedFromHours),
    ).toEqual([600, 250]);
    expect([after!.rows, after!.firstDay, after!.aircraft]).toEqual([
      [{ kind: "removals", file: 1, line: 2 }],
      after!.removedDay,
      "A1",
    ]);
    expect(ends(off({ found: "inspection" }))[1]).toEqual(["sandy", 600, 600, 850, "unread removal"]);
  });

  it("without an event says nothing of the hours there but that they were flown", () => {
    expect(ends(off({ mode: "not a failure" }, 0.15))).toEqual([
      ["temperate", 0, 600, RUNNING, "moved"],
      ["sandy", 600, 600, RUNNING, "removed"],
    ]);
  });

  it("moves nothing on the day of its last look, nor where it doesn't say where", () => {
    const atLook = off({ on: "2022-10-23", hours: 600, found: "inspection" });
    expect(atLook.map(({ group }) => group.environment)).toEqual(["temperate"]);
    expect(off({ environment: "unassigned" }).map(({ group }) => group.environment)).toEqual(["temperate"]);
  });
});

describe("two records of one moment", () => {
  it("a look repeated the day after, after a change of standard, finds what wore before it", () => {
    // plain 0 ──── 300 (.30) ════ 600 (.49), the day after 599.6 (.53), shielded since
    const repeated = (hours: number) =>
      build({
        looks: [
          ...looks([0.3, 0.49]),
          { serial: "S", on: "2022-10-24", hours, wear: 0.53, standard: "shielded" },
        ],
      }).lives;
    for (const hours of [599.6, 600, 600.4])
      expect(repeated(hours).map((life) => [life.group.standard, ...hoursOf(life)])).toEqual([
        ["plain", 0, hours > 600 ? 600 : 300, hours],
      ]);
    expect(fitWeibull(overLimitTable(repeated(599.6))).kind).toBe("none");
  });

  it("an over-limit look at fewer hours than it was entered at has an hour, not less than none", () => {
    // Removed at 640 h; fitted again at 600 h, its look ten days later at 599.7 h has it over.
    const { lives } = build({
      looks: [
        ...looks([0.1, 0.2]),
        { serial: "S", on: "2023-01-12", hours: 600, wear: 0.49 },
        { serial: "S", on: "2023-01-13", hours: 599.7, wear: 0.55 },
      ],
      removals: [{ serial: "S", on: "2023-01-01", hours: 640, mode: "not a failure" }],
    });
    expect(lives.map(hoursOf)[1]).toEqual([600, 600, 601]);
  });

  it("a removal recorded at fewer hours than its look of that day follows it all the same", () => {
    // new 0 ──── 300 (.25) ════ 600 (.55 over), removed that day, at 597 h by the removal
    for (const mode of ["wear", "not a failure"]) {
      const { lives, exclusions } = build({
        looks: looks([0.25, 0.55]),
        removals: [{ serial: "S", on: "2022-10-23", hours: 597, mode, found: "inspection" }],
      });
      expect(exclusions).toEqual([]);
      expect(lives.map((life) => [...hoursOf(life), life.end])).toEqual([[0, 300, 600, "over limit found"]]);
      expect(lives[0]!.removedDay).not.toBeNull();
    }
  });

  it("a removal from one aircraft comes before the look on the next, made that day", () => {
    const { lives } = build({
      looks: [...looks([0.05]), { serial: "S", on: "2022-10-23", hours: 603, wear: 0.1, aircraft: "A2" }],
      removals: [{ serial: "S", on: "2022-10-23", hours: 600, mode: "not a failure" }],
    });
    expect(lives.map((life) => [life.aircraft, life.end])).toEqual([["A2", "still fitted"]]);
  });
});

describe("hours that begin again without a removal on record", () => {
  const again: LookInput[] = [
    { serial: "S", on: "2024-06-14", hours: 100, wear: 0.03 },
    { serial: "S", on: "2024-10-14", hours: 220, wear: 0.05 },
  ];
  const first = (wear: readonly number[]) => build({ looks: [...looks(wear), ...again] }).lives[0]!;

  it("count as an early removal where its own line was near the limit, as with the row", () => {
    // new 0 ──── 300 (.14) ──── 600 (.29) ════ 900 (.44), then 100 (.03)
    expect([...hoursOf(first([0.14, 0.29, 0.44])), first([0.14, 0.29, 0.44]).end]).toEqual([
      0,
      600,
      900,
      "early removal",
    ]);
    expect([...hoursOf(first([0.05, 0.1, 0.15])), first([0.05, 0.1, 0.15]).end]).toEqual([
      0,
      900,
      RUNNING,
      "removed",
    ]);
  });
});
