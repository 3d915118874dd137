import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { readFleet } from "../../src/fleet/read-fleet.ts";
import { RotorwearError } from "../../src/problems.ts";
import { dayFromIso } from "../../src/units.ts";
import { changed, EXAMPLE, LEAST, lineOf } from "./example.ts";

/** What readFleet says of a bad text; fails where it says nothing. */
function complaint(text: string): string {
  try {
    readFleet(text, "fleet.yaml");
  } catch (error) {
    if (error instanceof RotorwearError && error.code === "E-FLEET" && error.exitCode === 2)
      return error.message;
    throw error;
  }
  throw new Error("the fleet file was taken");
}

describe("readFleet(text, fileName)", () => {
  it("reads every key of the example, quantities in mm, hours and shares", () => {
    const fleet = readFleet(EXAMPLE, "fleet.yaml");
    expect(fleet.name).toBe("Saltpan and Highland demonstration fleet");
    expect(fleet.exports.wear).toEqual({
      kind: "wear",
      files: ["exports/wear-*.csv"],
      exported: { from: "name", pattern: "wear-{yyyy}-{MM}.csv" },
      format: { delimiter: ";", decimal: ",", encoding: "windows-1252", dates: "dd.MM.yyyy" },
      unit: "mm",
      clock: "since new",
      columns: {
        component: "Serial",
        date: "Inspected",
        hours: "Hours",
        wear: "Wear",
        aircraft: "Tail",
        part: "Part no",
        position: "Arm",
        environment: "Base",
        standard: "Ring",
      },
    });
    expect(fleet.exports.gaps?.files).toEqual(["exports/gaps-1.csv", "exports/gaps-2.csv"]);
    expect(fleet.exports.gaps?.unit).toEqual({ column: "Unit" });
    expect(fleet.exports.removals?.exported).toEqual({ from: "column", column: "Exported" });
    expect(fleet.exports.flying?.format.dates).toBe("yyyy-MM");
    expect(fleet.words.environments.get("Saltpan")).toBe("sandy");
    expect([...fleet.words.causes]).toEqual([
      ["WORN", "wear"],
      ["LINER WORN", "wear"],
      ["SEAL LEAK", "seal"],
      ["TIME EXPIRED", "not a failure"],
      ["CONVENIENCE", "not a failure"],
    ]);
    expect(fleet.parts[0]).toMatchObject({ replaceAtMm: 0.5, unsafeAtMm: 0.8, beyondLimitFactor: 1.5 });
    expect(fleet.sealGaps).toEqual([{ standard: "shielded", lowMm: 0, highMm: 1 }]);
    expect(fleet.tasks[0]).toMatchObject({
      intervalH: 600,
      tolerance: 0.1,
      calendarMonths: 12,
      manHours: 14,
    });
    expect(fleet.tasks[0]?.exceptions[1]).toEqual({ environment: "sandy", standard: null, intervalH: 300 });
    expect(fleet.decisions[0]).toMatchObject({ on: dayFromIso("2023-05-01"), outcome: "approved" });
    expect(fleet.decisions[1]).toMatchObject({ revisit: "20 lives over 700 h", environment: null });
    expect(fleet.reviews).toEqual(["2026-04", "2027-04"]);
    expect(fleet.acceptable).toMatchObject({
      detectionChance: 0.9,
      confidence: 0.95,
      unsafeBeforeSeen: 0.001,
    });
    expect(fleet.intervalSteps).toEqual({ stepH: 50, list: null, largestChange: 0.5 });
  });

  it("keeps part numbers and recorded words as the text that stands in the file", () => {
    const fleet = readFleet(EXAMPLE, "fleet.yaml");
    expect(fleet.parts[0]?.partNumbers).toEqual(["GB-100-1", "0012", "1E5"]);
    expect(fleet.words.environments.get("12")).toBe("temperate");
  });

  it("fills in the defaults, except a chance of detection, which has none", () => {
    const fleet = readFleet(`\uFEFF${LEAST}`, "fleet.yaml");
    expect(fleet.parts[0]?.replaceAtMm).toBeCloseTo(0.508, 12);
    expect(fleet.tasks[0]?.tolerance).toBe(0.1);
    expect(fleet.acceptable).toEqual({
      unsafeBeforeSeen: 0.001,
      overLimitPerInspection: 0.1,
      functionalFailuresPer1000H: 0.01,
      detectionChance: null,
      detectionReference: null,
      confidence: 0.95,
    });
    expect(fleet.evidence.looksAtPresentInterval).toBe(60);
    expect(fleet.alerts).toEqual({ method: "poisson", windowMonths: 12 });
    expect(fleet.reviews).toBeNull();
    expect(fleet.words.standards.size).toBe(0);
  });

  it("takes a list of intervals as the grid", () => {
    const text = changed("{ step: 50 h, largest_change: 50% }", "[600 h, 150 h, 300 h, 300 h]");
    expect(readFleet(text, "f").intervalSteps).toEqual({
      stepH: null,
      list: [150, 300, 600],
      largestChange: 0.5,
    });
  });
});

describe("what readFleet says of one wrong key: file, line, key, expected, found, what to do", () => {
  const cases: [title: string, from: string, to: string, says: string[]][] = [
    [
      "a length without a unit",
      "replace_at: 0.50 mm",
      "replace_at: 0.50",
      ["parts[0].replace_at: expected a length", 'got "0.50"', '"0.50 mm"'],
    ],
    ["a length with a decimal comma", "replace_at: 0.50 mm", "replace_at: 0,50 mm", ["decimal point"]],
    [
      "an unknown unit",
      "unsafe_at: 0.80 mm",
      "unsafe_at: 0.80 cm",
      ["parts[0].unsafe_at", '"cm" is no unit'],
    ],
    [
      "an interval without h",
      "interval: 600 h\n",
      "interval: 600\n",
      ["tasks[0].interval", "flight hours", '"600 h"'],
    ],
    [
      "months as days",
      "calendar: 12 months",
      "calendar: 365 days",
      ["tasks[0].calendar", "whole number of months"],
    ],
    [
      "an unknown key",
      "man_hours: 14",
      "man_hour: 14",
      ["tasks[0].man_hour: expected a known key", 'did you mean "man_hours"?'],
    ],
    ["an unknown section", "reviews: [", "review: [", [" review: ", 'did you mean "reviews"?']],
    [
      "an unknown column",
      "wear: Wear,",
      "ware: Wear,",
      ["exports.wear.columns.ware", 'did you mean "wear"?'],
    ],
    [
      "an unknown threshold",
      "evidence: {}",
      "evidence: { minimum_live: 3 }",
      ["evidence.minimum_live", 'did you mean "minimum_lives"?'],
    ],
    [
      "a key with nothing",
      "unsafe_at: 0.80 mm",
      "unsafe_at:",
      ["parts[0].unsafe_at", "got an empty value", "take the key out"],
    ],
    [
      "an empty text where a list may stand",
      "seal: SEAL LEAK",
      'seal: ""',
      ["causes.seal: expected a text, got an empty value"],
    ],
    [
      "a wrong word",
      "basis: programme",
      "basis: program",
      ["tasks[0].basis: expected one of", 'got "program"', 'did you mean "programme"?'],
    ],
    ["a wrong clock", "clock: since new", "clock: since birth", ["exports.wear.clock: expected one of"]],
    ["a wrong unit word", "unit: mm\n", "unit: cm\n", ["exports.wear.unit", 'did you mean "mm"?']],
    ["a missing key", "    basis: programme\n", "", ["tasks[0].basis", "got nothing", "add basis"]],
    [
      "a list for a mapping",
      "evidence: {}",
      "evidence: []",
      ["evidence: expected a mapping of keys, got a list"],
    ],
    [
      "an empty list",
      "reviews: [ 2027-04, 2026-04 ]",
      "reviews: []",
      ["reviews: expected at least one entry"],
    ],
    ["no such day", "on: 2023-05-01", "on: 2023-02-30", ["decisions[0].on", "no such day"]],
    ["a month that is none", "2027-04,", "2027-13,", ["reviews[0]: expected a month"]],
    [
      "confidence over 1",
      "confidence: 0.95",
      "confidence: 95",
      ["acceptable.confidence", 'did you mean "95%"?'],
    ],
    ["confidence of 1", "confidence: 0.95", "confidence: 1", ["over 0.5 and under 1"]],
    ["confidence of a half", "confidence: 0.95", "confidence: 0.5", ["over 0.5 and under 1"]],
    ["a step of nothing", "step: 50 h", "step: 0 h", ["interval_steps.step", "over zero"]],
    [
      "a wrong entry in the list of steps",
      "{ step: 50 h, largest_change: 50% }",
      "[150 h, 300]",
      ["interval_steps[1]", '"300 h"'],
    ],
    [
      "a wrong date pattern",
      "dates: dd.MM.yyyy",
      "dates: dd.mm.yyyy",
      ["exports.wear.format.dates", "yyyy-MM-dd"],
    ],
    [
      "a wrong name pattern",
      "wear-{yyyy}-{MM}.csv",
      "wear-{year}-{MM}.csv",
      ["exports.wear.exported.pattern", "{yyyy} and {MM}"],
    ],
    [
      "half an exported",
      'from: name, pattern: "wear-{yyyy}-{MM}.csv"',
      "from: name",
      ["exports.wear.exported: expected { from: name"],
    ],
  ];
  it.each(cases)("%s", (_, from, to, says) => {
    const text = changed(from, to);
    const message = complaint(text);
    for (const words of says) expect(message).toContain(words);
    expect(message).toMatch(/^fleet\.yaml:\d+ .*expected .*got .*\[E-FLEET\]$/s);
  });

  it("names the line where the key stands, or where its mapping begins if the key is missing", () => {
    expect(complaint(changed("unsafe_at: 0.80 mm", "unsafe_at: 0.80"))).toContain(
      `fleet.yaml:${lineOf("unsafe_at")} `,
    );
    expect(complaint(changed("chance: 0.90", "chance: 90"))).toContain(`fleet.yaml:${lineOf("detection:")} `);
    expect(complaint(changed("    basis: programme\n", ""))).toContain(`fleet.yaml:${lineOf("- task:")} `);
  });
});

describe("what readFleet says of impossible combinations: both lines", () => {
  const both = (text: string, key: string, words: string[], lines: [string, string]) => {
    const message = complaint(text);
    expect(message).toContain(`fleet.yaml:${lineOf(lines[0], text)} ${key}`);
    expect(message).toContain(`on line ${lineOf(lines[1], text)}`);
    for (const word of words) expect(message).toContain(word);
  };

  it("unsafe_at at or below replace_at", () => {
    const text = changed("unsafe_at: 0.80 mm", "unsafe_at: 500 um");
    both(text, "parts[0].unsafe_at", ["more than replace_at (0.5 mm)"], ["unsafe_at", "replace_at: 0.50"]);
  });
  it("a seal gap tolerance upside down", () => {
    expect(complaint(changed("0 mm to 1.00 mm", "1.00 mm to 0 mm"))).toContain("upside down");
  });
  it("an acceptable risk that four looks can't show", () => {
    const text = changed("unsafe_before_seen: 0.001", "unsafe_before_seen: 0.00009");
    both(
      text,
      "acceptable.unsafe_before_seen",
      ["can't be shown", "leave 0.0001"],
      ["unsafe_before", "detection:"],
    );
    // (1 - 0.9)^4 itself can be shown, whatever the last bit of the product says.
    expect(() =>
      readFleet(changed("unsafe_before_seen: 0.001", "unsafe_before_seen: 0.0001"), "f"),
    ).not.toThrow();
  });
  it("a default acceptable risk that a poor detection can't show", () => {
    const text = changed("chance: 0.90", "chance: 0.5", changed("  unsafe_before_seen: 0.001\n", ""));
    expect(complaint(text)).toContain("got the default 0.001");
  });
  it("a task and a decision that name what isn't there", () => {
    expect(complaint(changed("    part: grip bearing\n", "    part: grip baering\n"))).toContain(
      'did you mean "grip bearing"?',
    );
    expect(complaint(changed("{ task: grip bearing wear check, env", "{ task: grip wear, env"))).toContain(
      "decisions[0].task: expected the name of a task",
    );
  });
  it("an exception, a seal gap and a decision that name what no recorded word means", () => {
    expect(complaint(changed("{ standard: plain, int", "{ standard: plane, int"))).toContain(
      'tasks[0].except[0].standard: expected a meaning in standards, got "plane" (did you mean "plain"?)',
    );
    expect(
      complaint(changed("environment: sandy, interval: 300 h }", "environment: coast, interval: 300 h }")),
    ).toContain("no recorded word maps to it; environments has temperate, sandy");
    expect(complaint(changed("{ standard: shielded, tol", "{ standard: S, tol"))).toContain(
      "seal_gaps[0].standard",
    );
    expect(
      complaint(changed("standard: shielded, interval: 800", "standard: bare, interval: 800")),
    ).toContain("decisions[1].standard");
  });
  it("an exception for nothing in particular, or twice for the same", () => {
    expect(complaint(changed("{ standard: plain, interval: 200 h }", "{ interval: 200 h }"))).toContain(
      "tasks[0].except[0]: expected an environment",
    );
    expect(
      complaint(changed("{ standard: plain, interval: 200 h }", "{ environment: sandy, interval: 200 h }")),
    ).toContain("tasks[0].except[1]: expected each");
  });
  it("one recorded word under two meanings", () => {
    const text = changed("seal: SEAL LEAK", "seal: [SEAL LEAK, WORN]");
    both(text, "causes.seal[1]", ["each recorded word once"], ["seal: [", "wear: [WORN"]);
    expect(complaint(changed("P: plain }", "S: plain }"))).toContain(
      `stands on line ${lineOf("standards:")} already`,
    );
    expect(complaint(changed("P: plain }", '"S ": plain }'))).toContain(
      'got "S" (it stands at standards.S on line',
    );
  });
  it("one part number under two parts, and two parts that no column tells apart", () => {
    const second = changed(
      "seal_gaps:",
      "  - { part: seal ring, part_numbers: [GB-100-1], replace_at: 1 mm }\nseal_gaps:",
    );
    both(
      second,
      "parts[1].part_numbers[0]",
      ["each recorded word once"],
      ["- { part: seal", "part_numbers: [GB"],
    );
    const noColumn = changed("part: Part no, position", "position", second.replace("[GB-100-1]", "[SR-1]"));
    both(
      noColumn,
      "exports.wear.columns",
      ["a serial alone"],
      ["    columns: { component: Serial, date: Insp", "- { part: seal"],
    );
  });
  it("a part column, and no part numbers to read it by", () => {
    const text = changed("    part_numbers: [GB-100-1, 0012, 1E5]\n", "");
    both(
      text,
      "parts[0].part_numbers",
      ["list those of this part"],
      ["- part: grip", "    columns: { component: Serial, date: Insp"],
    );
  });
  it("no wear and no removals export; airframe hours and nothing to convert them", () => {
    expect(
      complaint(
        changed(
          "  wear:\n    files: wear.csv\n    columns: { component: Serial, date: Date, hours: Hours, wear: Wear }",
          "  flying: { files: f.csv, columns: { month: M, aircraft: A, hours: H } }",
          LEAST,
        ),
      ),
    ).toContain("exports: expected a wear export, or removals");
    expect(
      complaint(changed("    files: wear.csv\n", "    files: wear.csv\n    clock: airframe\n", LEAST)),
    ).toContain("exports.wear.clock: expected an installed export");
  });

  it("counts wear, removals and the roster on one clock, and names both lines", () => {
    const removals = "    exported: { column: Exported }\n";
    expect(complaint(changed(removals, `${removals}    clock: airframe\n`))).toMatch(
      /exports\.removals\.clock: expected "since new", as the wear export counts, got "airframe" \(exports\.wear\.clock on line 9 counts/,
    );
  });

  it("says which heading is still to be filled in", () => {
    expect(
      complaint(changed("component: Serial, date: Inspected", "component: FILL IN, date: Inspected")),
    ).toContain("exports.wear.columns.component: expected a heading of the export");
  });
  it("one column for two measured fields", () => {
    const text = changed("hours: Hours, wear: Wear", "hours: Wear, wear: Wear");
    expect(complaint(text)).toContain("exports.wear.columns.wear: expected a column of its own");
    // One column of codes may say how it came to light and what was found.
    expect(() => readFleet(changed("finding: Finding", "finding: Found at"), "f")).not.toThrow();
  });
  it("a recorded word that would write to the terminal is quoted", () => {
    const message = complaint(changed("Saltpan: sandy", '"\\e[31mred": unassigned'));
    expect(message).toContain('environments."\\u001b[31mred": expected a meaning');
    expect(complaint(`${LEAST}a\u009b\u202eb: *c\n`)).not.toMatch(/[\u0080-\u009f\u202e]/);
    expect(complaint(`${LEAST}a\u009b\u202eb: 1\n`)).toContain("\\u009b\\u202eb");
  });
  it("two intervals approved on one day for the same", () => {
    const more =
      "\n  - { task: grip bearing wear check, environment: sandy, interval: 250 h, on: 2023-05-01, outcome: approved }";
    const text = changed("reference: minute 4 }", `reference: minute 4 }${more}`);
    both(
      text,
      "decisions[1]",
      ["one interval approved on one day"],
      ["interval: 250 h", "reference: minute 4"],
    );
  });
  it("gaps that can't be joined to a component", () => {
    expect(
      complaint(changed("aircraft: Tail, position: Arm, date: Date", "aircraft: Tail, date: Date")),
    ).toContain("exports.gaps.columns: expected component, or aircraft and position");
  });
  it("a share promised by a refusal", () => {
    const message = complaint(
      changed("revisit: 20 lives over 700 h }", "revisit: 20 lives over 700 h, promised: 3% }"),
    );
    expect(message).toContain("decisions[1].promised: expected an approval or a trial");
  });

  it("an approved decision that the present lines contradict", () => {
    const text = changed(
      "{ environment: sandy, interval: 300 h } ]",
      "{ environment: sandy, interval: 350 h } ]",
    );
    both(text, "decisions[0].interval", ["350 h", "300 h"], ["  - { task: grip", "    except:"]);
  });
});

describe("readFleet of a file that is hardly YAML", () => {
  it("lists several problems by line, the first twenty, and counts the rest", () => {
    const keys = Array.from({ length: 25 }, (_, i) => `nonsense${i}: 1`).join("\n");
    const lines = complaint(`${LEAST}${keys}\n`).split("\n");
    expect(lines).toHaveLength(21);
    expect(lines[0]).toContain("fleet.yaml:10 nonsense0: expected a known key");
    expect(lines[20]).toBe("…and 5 more [E-FLEET]");
  });
  it.each([
    ["", "expected a mapping of keys"],
    ["- a\n", "expected a mapping of keys, got a list"],
    ["just words\n", "expected a mapping of keys"],
    ["a: [1\nb: 2\n", "fleet.yaml:2: expected YAML"],
    ["a: 'un\n", "quote"],
    ["a: *x\n", "fleet.yaml:1: expected aliases that resolve"],
    ["a: 1\n---\nb: 2\n", "multiple documents"],
    ["? [x]\n: 1\n", "a key that is plain text"],
    ["\u0000\u0001", "E-FLEET"],
    [
      "a: &a [x,x,x,x,x,x,x,x,x]\nb: &b [*a,*a,*a,*a,*a,*a,*a]\nc: &c [*b,*b,*b,*b,*b,*b,*b]\nd: [*c,*c,*c,*c,*c,*c,*c,*c]\n",
      "aliases that resolve",
    ],
  ])("%j is refused in one line a problem", (text, says) => {
    expect(complaint(text)).toContain(says);
  });

  it("never fails otherwise, whatever stands in a spoilt file", () => {
    const spoilt = fc.record({
      at: fc.nat(EXAMPLE.length),
      length: fc.nat(40),
      text: fc.oneof(
        fc.string({ unit: "binary" }),
        fc.constantFrom("", "&a ", "*a", "[", "}", "? ", "- ", "\t", "__proto__: "),
      ),
    });
    fc.assert(
      fc.property(spoilt, ({ at, length, text }) => {
        const spoiltText = EXAMPLE.slice(0, at) + text + EXAMPLE.slice(at + length);
        try {
          readFleet(spoiltText, "fleet.yaml");
          return true;
        } catch (error) {
          return error instanceof RotorwearError && /^fleet\.yaml:\d+/.test(error.message);
        }
      }),
      { numRuns: 60 },
    );
  });
});
