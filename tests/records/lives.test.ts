import { describe, expect, it } from "vitest";
import { overLimitTable } from "../../src/records/event-table.ts";
import { buildLives } from "../../src/records/lives.ts";
import {
  dayOfText,
  type ExportsInput,
  type LookInput,
  makeExports,
  type RemovalInput,
} from "../support/make-exports.ts";

/** Limit 0.50 mm, interval 300 h, records up to the end of 2024; about 1 h a day is flown. */
const lives = (input: ExportsInput) =>
  buildLives(makeExports(input), {
    asOf: dayOfText("2024-12-31"),
    parts: [{ part: "grip bearing", replaceAtMm: 0.5 }],
    airframeClock: false,
    presentIntervalH: () => 300,
  });

/** A component that has nothing to do with the case: it makes the records begin on 2020-01-01, at its hour 10. */
const BACKGROUND: LookInput[] = [
  { serial: "B", on: "2020-01-01", hours: 10, wear: 0.01 },
  { serial: "B", on: "2020-10-27", hours: 310, wear: 0.02 },
];
const of = (serial: string, input: ExportsInput) => {
  const withBackground = { ...input, looks: [...BACKGROUND, ...(input.looks ?? [])] };
  const exports = makeExports(withBackground);
  return lives(withBackground).lives.filter((life) => exports.components.serial[life.component] === serial);
};
const hoursOf = (life: { entryHours: number; lowerHours: number; upperHours: number }) => [
  life.entryHours,
  life.lowerHours,
  life.upperHours,
];
/** Looks of serial S at 300 h steps from new, one hour a day from the given day. */
const looks = (wear: readonly LookInput["wear"][], extra: Partial<LookInput> = {}): LookInput[] =>
  wear.map((value, i) => ({
    serial: "S",
    on: ["2021-12-27", "2022-10-23", "2023-08-19", "2024-06-14"][i]!,
    hours: 300 * (i + 1),
    wear: value,
    ...extra,
  }));

describe("buildLives(exports, settings): over limit", () => {
  it("lies somewhere since the last good look", () => {
    // new 0 ──── 300 (.10) ──── 600 (.30) ════ 900 (.52 over)
    const [life] = of("S", { looks: looks([0.1, 0.3, 0.52]) });
    expect(hoursOf(life!)).toEqual([0, 600, 900]);
    expect(life!.end).toBe("over limit found");
  });

  it("counts a look in words: over limit", () => {
    // new 0 ──── 300 (.10) ════ 600 (over, in words)
    const [life] = of("S", { looks: looks([0.1, "over limit"]) });
    expect(hoursOf(life!)).toEqual([0, 300, 600]);
  });

  it("is censored at the last good look, never at removal, hours now or the report date", () => {
    // new 0 ──── 300 (.05) ──── 600 (.10) ···· 750 removed: convenience, not refitted
    const [life] = of("S", {
      looks: looks([0.05, 0.1]),
      removals: [{ serial: "S", on: "2023-03-22", hours: 750, mode: "not a failure" }],
      fitted: [{ serial: "B", on: "2019-12-22", hours: 0, hoursNow: 1700 }],
    });
    expect(hoursOf(life!)).toEqual([0, 600, Number.POSITIVE_INFINITY]);
    expect(life!.end).toBe("removed");
  });

  it("is not undone by a later reading below the limit", () => {
    // new 0 ──── 300 (.10) ════ 600 (.51 over) ──── 900 (.49)
    const [life] = of("S", { looks: looks([0.1, 0.51, 0.49]) });
    expect(hoursOf(life!)).toEqual([0, 300, 600]);
    expect(life!.lookHours).toEqual([300, 600]);
    expect(life!.readingHours).toEqual([300, 600, 900]);
  });

  it("stays interval-censored when it came to light in service, and the failure is exact in its own table", () => {
    // new 0 ──── 300 (.10) ════ 480 failed in service, worn
    const [life] = of("S", {
      looks: looks([0.1]),
      removals: [
        { serial: "S", on: "2022-06-25", hours: 480, mode: "wear", found: "service", finding: "confirmed" },
      ],
    });
    expect(hoursOf(life!)).toEqual([0, 300, 480]);
    expect(life!.end).toBe("functional failure");
    expect(life!.functionalFailureHours).toBe(480);
  });

  it("does not count an unconfirmed finding as a failure", () => {
    // new 0 ──── 300 (.05) ──── 600 (.10) ···· 620 removed as worn, shop: no fault found
    const [life] = of("S", {
      looks: looks([0.05, 0.1]),
      removals: [
        {
          serial: "S",
          on: "2022-11-12",
          hours: 620,
          mode: "wear",
          found: "service",
          finding: "no fault found",
        },
      ],
    });
    expect(life!.end).toBe("removed");
    expect(life!.functionalFailureHours).toBeNull();
  });
});

describe("buildLives(exports, settings): early removals", () => {
  const early = {
    looks: looks([0.14, 0.29, 0.44]),
    removals: [{ serial: "S", on: "2023-08-19", hours: 900, mode: "not a failure" }],
  };

  it("count as over limit where the component's own line would have reached the limit within one interval", () => {
    // new 0 ──── 300 (.14) ──── 600 (.29) ════ 900 (.44, removed below R): .05 mm per 100 h reaches .50 at 1020 h
    const [life] = of("S", early);
    expect(life!.end).toBe("early removal");
    expect(hoursOf(life!)).toEqual([0, 600, 900]);
  });

  it("are shown as censored beside it", () => {
    const events = of("S", early);
    const censored = overLimitTable(events, "censored");
    expect([censored.lowerHours[0], censored.upperHours[0]]).toEqual([900, Number.POSITIVE_INFINITY]);
    expect(overLimitTable(events).upperHours[0]).toBe(900);
  });

  it("do not count where the line stays below for another interval", () => {
    // new 0 ──── 300 (.05) ──── 600 (.10) ──── 900 (.15, removed)
    const [life] = of("S", {
      looks: looks([0.05, 0.1, 0.15]),
      removals: [{ serial: "S", on: "2023-08-19", hours: 900, mode: "not a failure" }],
    });
    expect(life!.end).toBe("removed");
    expect(hoursOf(life!)).toEqual([0, 900, Number.POSITIVE_INFINITY]);
  });

  it("count when removed for wear with no reading to show how much", () => {
    // new 0 ──── 300 (.05) ════ 500 removed at an inspection as worn, no reading that day
    const [life] = of("S", {
      looks: looks([0.05]),
      removals: [{ serial: "S", on: "2022-07-15", hours: 500, mode: "wear", found: "inspection" }],
    });
    expect(life!.end).toBe("unread removal");
    expect(hoursOf(life!)).toEqual([0, 300, 500]);
  });
});

describe("buildLives(exports, settings): late entry", () => {
  it("counts from new where the first look came within one interval", () => {
    // 0 ···· 10 (.01), on the day the records begin
    const [life] = of("B", {});
    expect([life!.entryHours, life!.lateEntry, life!.observedFromHours]).toEqual([0, false, 10]);
    //  0 ···· 320 (.30): a look a little late is still the first
    const [late] = of("S", { looks: [{ serial: "S", on: "2020-01-01", hours: 320, wear: 0.3 }] });
    expect([late!.entryHours, late!.lateEntry]).toEqual([0, false]);
  });

  it("enters one interval before its first look, where that is not recorded", () => {
    // 1 h a day: on 2020-01-01 it had 900 − 270 = 630 h; its last look before was about at 600 h
    //  (600) ─ 630 records begin ──── 900 (.30) ──── 1200 (.40)
    const [life] = of("S", {
      looks: [
        { serial: "S", on: "2020-09-27", hours: 900, wear: 0.3 },
        { serial: "S", on: "2021-07-24", hours: 1200, wear: 0.4 },
      ],
    });
    expect(hoursOf(life!)).toEqual([600, 1200, Number.POSITIVE_INFINITY]);
    expect(life!.observedFromHours).toBe(630);
  });

  it("enters at the latest at its hours on the day the records begin", () => {
    // 1 h a day, first looked at 330 days after: 570 ──── 900 (.30)
    const [life] = of("S", {
      looks: [
        { serial: "S", on: "2020-11-26", hours: 900, wear: 0.3 },
        { serial: "S", on: "2021-09-22", hours: 1200, wear: 0.4 },
      ],
    });
    expect([life!.entryHours, life!.observedFromHours]).toEqual([570, 570]);
  });

  it("takes a first look as found since its entry, over the limit or not, also on the day the records begin", () => {
    //  600 ════ 900 (.60 over)    600 ──── 900 (.30)
    const entered = (wear: number) =>
      of("S", { looks: [{ serial: "S", on: "2020-01-01", hours: 900, wear }] }).map(hoursOf);
    expect(entered(0.6)).toEqual([[600, 600, 900]]);
    expect(entered(0.3)).toEqual([[600, 900, Number.POSITIVE_INFINITY]]);
  });

  it("goes by the hours between looks that were usual then, not by the present interval", () => {
    // Looks every 500 h in 2020, by five others; the present interval is 300 h.
    const others = ["C", "D", "E", "F", "G"].flatMap((serial) => [
      { serial, on: "2020-02-01", hours: 600, wear: 0.1 },
      { serial, on: "2021-06-15", hours: 1100, wear: 0.2 },
    ]);
    const first = { serial: "S", on: "2020-03-01", hours: 900, wear: 0.3 };
    expect(of("S", { looks: [...others, first] })[0]!.entryHours).toBe(400);
    expect(of("S", { looks: [...others.slice(4), first] })[0]!.entryHours).toBe(600);
  });

  it("counts from new what the roster says was fitted new after the records began", () => {
    const [life] = of("S", {
      looks: looks([0.1]),
      fitted: [{ serial: "S", on: "2021-03-02", hours: 0 }],
    });
    expect([life!.entryHours, life!.lateEntry]).toEqual([0, false]);
  });

  it("believes a fitting before the records began, not its pace of late", () => {
    // Fitted new in 2010, flies 4 h a day of late: 900 h on 2020-12-01, about 826 h of them before the records.
    const input = {
      looks: [
        { serial: "S", on: "2020-12-01", hours: 900, wear: 0.1 },
        { serial: "S", on: "2021-05-01", hours: 1500, wear: 0.15 },
      ],
    };
    const [life] = of("S", { ...input, fitted: [{ serial: "S", on: "2010-01-01", hours: 0 }] });
    expect(life).toMatchObject({ entryHours: 600, lateEntry: true });
    expect(life!.observedFromHours).toBeCloseTo(824, 0);
  });
});

describe("buildLives(exports, settings): when the records begin", () => {
  /** Three aircraft, one component each, 900 h at a look in 2020 and 1200 h at the next; and one row of 2008 on A1. */
  const looks = ["A1", "A2", "A3"].flatMap((aircraft, i) => [
    { serial: `S${i}`, on: "2020-01-01", hours: 900, wear: 0.3, aircraft },
    { serial: `S${i}`, on: "2020-10-27", hours: 1200, wear: 0.4, aircraft },
  ]);
  const old = { serial: "OLD", on: "2008-03-01", hours: 300, wear: 0.08, aircraft: "A1" };
  const entries = (rows: readonly LookInput[]) => {
    const exports = makeExports({ looks: rows });
    return lives({ looks: rows })
      .lives.filter(({ component }) => exports.components.serial[component] !== "OLD")
      .map(({ entryHours }) => entryHours);
  };

  it("goes by aircraft: a row of years before moves the lives of its own aircraft only", () => {
    expect(entries(looks)).toEqual([600, 600, 600]);
    expect(entries([old, ...looks])).toEqual([0, 600, 600]);
  });

  it("goes by environment among rows that name no aircraft", () => {
    const unnamed = looks.map((look, i) => ({
      ...look,
      aircraft: "",
      environment: i < 2 ? "sandy" : "temperate",
    }));
    const row = { ...old, aircraft: "", environment: "sandy" };
    expect(entries([row, ...unnamed])).toEqual([0, 600, 600]);
    // A row of an aircraft says nothing of when the book of those without began.
    expect(entries([{ ...row, aircraft: "A9" }, ...unnamed])).toEqual([600, 600, 600]);
  });

  it("goes by removals too", () => {
    const removal = { serial: "OLD", on: "2008-03-01", hours: 300, mode: "not a failure", aircraft: "A2" };
    const built = lives({ looks, removals: [removal] }).lives;
    expect(built.map(({ entryHours }) => entryHours).slice(0, 3)).toEqual([600, 0, 600]);
  });
});

describe("buildLives(exports, settings): moves and joins", () => {
  it("splits a life at a move of environment: censored in the old, late entry in the new", () => {
    // temperate 0 ──── 300 ──── 600 │ sandy 600 ──── 900 ════ 1200 (.55 over)
    const pieces = of("S", {
      looks: looks([0.1, 0.2, 0.3, 0.55]).map((look, i) => ({
        ...look,
        environment: i < 2 ? "temperate" : "sandy",
      })),
    });
    expect(pieces.map((piece) => [piece.group.environment, ...hoursOf(piece), piece.end])).toEqual([
      ["temperate", 0, 600, Number.POSITIVE_INFINITY, "moved"],
      ["sandy", 600, 900, 1200, "over limit found"],
    ]);
  });

  it("splits a life at a change of standard", () => {
    const pieces = of("S", {
      looks: looks([0.1, 0.2]).map((look, i) => ({ ...look, standard: i < 1 ? "plain" : "shielded" })),
    });
    expect(pieces.map((piece) => piece.group.standard)).toEqual(["plain", "shielded"]);
  });

  it("continues a life on another aircraft after a removal that is no failure", () => {
    // 0 ──── 300 ──── 600, off for convenience at 610, on another aircraft ──── 900
    const [life, ...more] = of("S", {
      looks: looks([0.05, 0.1, 0.15]).map((look, i) => ({ ...look, aircraft: i < 2 ? "A1" : "A2" })),
      removals: [{ serial: "S", on: "2022-11-02", hours: 610, mode: "not a failure" }],
    });
    expect(more).toEqual([]);
    expect(life!.lookHours).toEqual([300, 600, 900]);
    expect([life!.aircraft, life!.end]).toEqual(["A2", "still fitted"]);
  });

  it("takes a removal with more hours than the one before as proof that it was fitted between", () => {
    // 0 ──── 300 ──── 600, off for a swap at 610, failed at 660 on another aircraft before any look there
    const swapped = { serial: "S", on: "2022-11-02", hours: 610, mode: "not a failure" };
    const failed: RemovalInput = { ...swapped, on: "2022-12-22", hours: 660, mode: "wear", found: "service" };
    const asked = { looks: [...BACKGROUND, ...looks([0.05, 0.1])], removals: [swapped, failed] };
    const [life, ...more] = of("S", asked);
    expect(more).toEqual([]);
    expect([life!.end, life!.functionalFailureHours, hoursOf(life!)]).toEqual([
      "functional failure",
      660,
      [0, 600, 660],
    ]);
    // At the hours it was taken off at, nothing shows that it had been fitted.
    const again = { ...asked, removals: [swapped, { ...failed, hours: 611 }] };
    expect(of("S", again)[0]!.functionalFailureHours).toBeNull();
    expect(lives(again).exclusions.map(({ reason }) => reason)).toEqual([
      "removed again without having been fitted since",
    ]);
  });

  it("starts the next life where hours are back at zero after a removal", () => {
    // 0 ──── 300 ════ 600 (.52 over), removed │ 0 ──── 300 (.10)
    const two = of("S", {
      looks: [...looks([0.1, 0.52]), { serial: "S", on: "2024-06-14", hours: 300, wear: 0.1 }],
      removals: [{ serial: "S", on: "2022-10-23", hours: 600, mode: "wear", found: "inspection" }],
    });
    expect(two.map((life) => [life.life, ...hoursOf(life)])).toEqual([
      [1, 0, 300, 600],
      [2, 0, 300, Number.POSITIVE_INFINITY],
    ]);
  });

  it("leaves out a look whose hours fit neither neighbour, and says so", () => {
    const input = {
      looks: [
        ...BACKGROUND,
        ...looks([0.1, 0.2, 0.3]).map((look, i) => (i === 1 ? { ...look, hours: 60 } : look)),
      ],
    };
    const { lives: all, exclusions } = lives(input);
    expect(all.find((life) => life.component === 1)!.lookHours).toEqual([300, 900]);
    expect(exclusions.map(({ reason }) => reason)).toEqual([
      "its hours fit neither the looks before nor those after",
    ]);
  });

  it("keeps file and line of every row that made a life", () => {
    const [life] = of("S", { looks: looks([0.1, 0.52]) });
    expect(life!.rows).toEqual([
      { kind: "wear", file: 0, line: 4 },
      { kind: "wear", file: 0, line: 5 },
    ]);
  });

  it("uses nothing after the as-of day", () => {
    const [life] = of("S", {
      looks: [...looks([0.1, 0.2]), { serial: "S", on: "2025-06-01", hours: 900, wear: 0.9 }],
    });
    expect(hoursOf(life!)).toEqual([0, 600, Number.POSITIVE_INFINITY]);
  });
});

describe("buildLives(exports, settings): fitted again", () => {
  const REMOVED = { serial: "S", on: "2023-01-01", hours: 640, mode: "not a failure" } as const;
  const before = looks([0.1, 0.2]);
  const lookAt = (hours: number): LookInput => ({ serial: "S", on: "2024-06-14", hours, wear: 0.3 });

  it("goes on at the same hours (± 1 h) on any aircraft", () => {
    const [life, ...more] = of("S", {
      looks: [...before, { ...lookAt(1000), aircraft: "A5" }],
      removals: [REMOVED],
      fitted: [{ serial: "S", on: "2023-06-01", hours: 640.4, aircraft: "A5" }],
    });
    expect(more).toEqual([]);
    expect(life!.readingHours).toEqual([300, 600, 1000]);
  });

  it("starts the next life where the roster has it back at nothing, though later looks are beyond the removal", () => {
    const both = of("S", {
      looks: [...before, lookAt(700)],
      removals: [REMOVED],
      fitted: [{ serial: "S", on: "2023-01-10", hours: 0 }],
    });
    expect(both.map(({ life, entryHours, readingHours }) => [life, entryHours, ...readingHours])).toEqual([
      [1, 0, 300, 600],
      [2, 0, 700],
    ]);
  });

  it("enters late where hours fell, but not to what can have been flown since the removal", () => {
    // Removed at 640 h; eleven days later it has 600 h again: nobody flew those since.
    const both = of("S", {
      looks: [...before, { ...lookAt(600), on: "2023-01-12" }],
      removals: [REMOVED],
    });
    expect(both.map(({ entryHours, readingHours }) => [entryHours, ...readingHours])).toEqual([
      [0, 300, 600],
      [600, 600],
    ]);
  });
});

describe("buildLives(exports, settings): where hours were flown", () => {
  it("says what placed them: the fitted aircraft's base, else only what the later reading records", () => {
    const placed = (fitted: ExportsInput["fitted"]) =>
      of("S", { looks: looks([0.1, 0.2]), ...(fitted === undefined ? {} : { fitted }) }).map(
        ({ group, environmentFrom }) => [group.environment, environmentFrom],
      );
    expect(placed(undefined)).toEqual([["temperate", "later reading"]]);
    expect(placed([{ serial: "S", on: "2020-01-01", hours: 0, environment: "sandy" }])).toEqual([
      ["sandy", "base"],
    ]);
    // Fitted only before the second look: the first hours have no base.
    expect(placed([{ serial: "S", on: "2022-01-01", hours: 305, environment: "temperate" }])).toEqual([
      ["temperate", "later reading"],
    ]);
  });
});
