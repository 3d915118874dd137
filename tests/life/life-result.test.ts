import { describe, expect, it } from "vitest";
import { lifeResult } from "../../src/life/life-result.ts";
import { lifeText, numberText } from "../../src/life/life-text.ts";
import { parseLifeTable } from "../../src/life/parse-life-table.ts";
import { dataText } from "./reference-data.ts";

const result = lifeResult(parseLifeTable(dataText("heat-exchanger")).groups, { confidence: 0.95 });

describe("lifeResult(groups, { confidence })", () => {
  it("has the published keys, counts summed by count, bounds from R (reference/life.json)", () => {
    expect(result.schema).toBe("rotorwear/life/1");
    expect(result.groups.map((group) => group.group)).toEqual(["plant 1", "plant 2", "plant 3"]);
    const first = result.groups[0]!;
    expect(first).toMatchObject({ lives: 100, exact: 0, interval: 4, left: 1, running: 95 });
    expect(first.weibull!.shape).toMatchObject({
      estimate: 1.420290974,
      lower: expect.closeTo(0.435875221, 8),
      upper: expect.closeTo(3.396581462, 8),
    });
    expect(first.weibull!.lives_at.map((life) => life.fraction)).toEqual([0.01, 0.05, 0.1, 0.5]);
    expect(first.alternatives.map((each) => each.family).sort()).toEqual([
      "exponential",
      "lognormal",
      "weibull",
    ]);
    expect(first.survival.map((point) => point.hours)).toEqual([1, 2, 3]);
    expect(first.survival[0]!.survival).toBeCloseTo(0.99, 9);
  });

  it("says what lives without any event show (59 to 600 h: 95 % at 95 %, the success run)", () => {
    const { groups } = parseLifeTable("lower,upper,count\n600,,59\n");
    const [group] = lifeResult(groups).groups;
    expect(group!.zero_events).toMatchObject({ hours: 600, lives: 59 });
    expect(lifeText(lifeResult(groups))).toContain(
      "59 lives to 600 h without an event show at 95 % confidence that at least 95 % get there without one.",
    );
  });

  it("says why where there is no Weibull, and keeps to JSON", () => {
    const third = result.groups[2]!;
    expect(third.weibull).toBeNull();
    expect(third.why).toContain("one event");
    expect(JSON.parse(JSON.stringify(result))).toEqual(result);
  });

  it("numbers have 10 significant digits", () => {
    for (const match of JSON.stringify(result).matchAll(/\d+\.\d+/g)) {
      expect(match[0].replace(/^0\.0*|\./g, "").length).toBeLessThanOrEqual(10);
    }
  });
});

describe("lifeText(result)", () => {
  it("is a table with units and bounds, and a plain line a group", () => {
    expect(lifeText(lifeResult(parseLifeTable(dataText("bearing-cage")).groups))).toBe(
      [
        "All lives: 1703 lives, 6 events (6 exact), 1697 still running",
        "",
        "                 unit  estimate  std. error  lower 95 %  upper 95 %",
        "  Weibull shape  -        2.035      0.6657      0.9709        3.58",
        "  Weibull scale  h        11792        9848        4045      213597",
        "  1 % life       h         1230                   862.2        2457",
        "  5 % life       h         2740                    1673       10914",
        "  10 % life      h         3903                    2094       22144",
        "  50 % life      h         9849                    3641      147224",
        "",
        "  By 3903 h one in ten has had the event (95 %: 2094 to 22144 h); whether the risk grows with hours can't be told from these lives. With 6 events this is thin: read the bounds, not the estimate.",
        "",
        "Bounds are two-sided likelihood-ratio bounds at 95 % confidence; hours are flight hours.",
        "",
      ].join("\n"),
    );
  });

  it("numberText(value) keeps four significant digits", () => {
    expect([0, 12345.6, 999.96, 1.5, 0.01234567, 2e12].map(numberText)).toEqual([
      "0",
      "12346",
      "1000",
      "1.5",
      "0.01235",
      "2.000e+12",
    ]);
  });
});

describe("lifeResult(groups, { naive })", () => {
  const rows = [
    "entry,lower,upper,flown",
    "0,500,600,600",
    "0,700,800,800",
    "300,900,,1200",
    "0,400,650,650",
    "0,800,,1100",
  ];
  const parsed = parseLifeTable(rows.join("\n"));

  it("shows every shortcut that changes something, hours flown after the last look too", () => {
    const [group] = lifeResult(parsed.groups, { naive: true }).groups;
    expect(group!.naive!.map(({ name }) => name)).toEqual([
      "midpoints as exact",
      "found at as failed at",
      "late entry ignored",
      "hours after the last look counted",
    ]);
    const text = lifeText(lifeResult(parsed.groups, { naive: true }));
    expect(text).toContain(
      "Shortcuts, and by how much they mislead:\n  - Taking each event as at the middle",
    );
    expect(lifeText(lifeResult(parsed.groups))).not.toContain("Shortcuts");
  });

  it("refuses hours flown that are fewer than those looked at", () => {
    const { problems } = parseLifeTable("lower,upper,flown\n500,,400\n");
    expect(problems).toMatchObject([
      { line: 2, column: "flown", expected: "at least lower (500): the life was looked at there" },
    ]);
  });
});

describe("lifeResult(groups): comparison", () => {
  it("ratio 3.55, one shape 1.366, log-rank 16.79 of Gehan's leukaemia data (R survreg and survdiff)", () => {
    const { comparison } = lifeResult(parseLifeTable(dataText("leukaemia")).groups);
    expect(comparison).toMatchObject({
      against: "control",
      ratios: [{ group: "6-MP", ratio: expect.closeTo(Math.exp(1.26733458741908), 5) }],
      common_shape: { shape: expect.closeTo(1 / 0.732194404, 5), degrees_of_freedom: 1 },
      log_rank: { chi_squared: expect.closeTo(16.79, 2), degrees_of_freedom: 1 },
    });
  });

  it("says why a group has no ratio, and leaves out the log-rank test where events are intervals", () => {
    const { comparison } = result;
    expect(comparison!.log_rank).toBeNull();
    const text = lifeText(result);
    expect(text).toContain("Groups against plant 1, which has most lives:");
  });
});
