import { describe, expect, it } from "vitest";
import { parseTimes } from "./measure.ts";
import {
  type Cell,
  comparisonTable,
  growthTable,
  middleOf,
  type Row,
  remarks,
  secondsText,
} from "./table.ts";

const runs = (...wall: readonly number[]): Cell => ({
  kind: "runs",
  runs: wall.map((wallS) => ({ kind: "measured", wallS, cpuS: 2 * wallS, peakMB: 100 * wallS })),
});
const dead: Cell = { kind: "runs", runs: [{ kind: "died", why: "exit 1: no memory" }] };
const absent: Cell = { kind: "not done", why: "it has no bounds" };
const row = (name: string, rotorwear: Cell, R: Cell, Python: Cell): Row => ({
  name,
  cells: { rotorwear, R, Python },
});

describe("comparisonTable(rows)", () => {
  it("shows medians with their range, and rotorwear's time and memory as so many times the peer's", () => {
    const [, , line] = comparisonTable([row("first", runs(3, 1, 2), runs(4), runs(1))]).split("\n");
    expect(line).toBe(
      "| first | 2.00 s (1.00 s to 3.00 s), CPU 4.00 s, 200 MB | 4.00 s, CPU 8.00 s, 400 MB | 1.00 s, CPU 2.00 s, 100 MB " +
        "| × 0.50, memory × 0.50 | × 2.0, memory × 2.0 |",
    );
  });

  it("says died in place of a number, and gives no ratio to it", () => {
    const [, , line] = comparisonTable([row("first", runs(2), dead, absent)]).split("\n");
    expect(line).toContain("| **died** | – | – | – |");
  });

  it("counts the runs that died beside those that did not", () => {
    const some: Cell = {
      kind: "runs",
      runs: [
        ...(runs(2).kind === "runs"
          ? [{ kind: "measured", wallS: 2, cpuS: null, peakMB: null } as const]
          : []),
        { kind: "died", why: "killed" },
      ],
    };
    expect(comparisonTable([row("first", some, absent, absent)])).toContain("2.00 s, **1 of 2 died**");
    expect(middleOf(some)).toMatchObject({ wallS: 2, runs: 1, died: 1 });
  });
});

describe("remarks(rows)", () => {
  it("says once why a run died, and what isn't done", () => {
    const twice: Cell = {
      kind: "runs",
      runs: [
        { kind: "died", why: "killed" },
        { kind: "died", why: "killed" },
      ],
    };
    expect(remarks([row("first", twice, absent, runs(1))])).toBe(
      "- first, rotorwear: **died**, killed\n- first, R: not done, it has no bounds",
    );
    expect(remarks([row("first", runs(1), runs(1), runs(1))])).toBeNull();
  });
});

describe("growthTable(steps)", () => {
  it("divides medians, and leaves out what died", () => {
    const from = row("small", runs(1), runs(2), dead);
    const to = row("large", runs(9), runs(30), runs(4));
    expect(growthTable([{ name: "1 M to 10 M", from, to }]).split("\n")[2]).toBe(
      "| 1 M to 10 M | × 9.0, memory × 9.0 | × 15, memory × 15 | – |",
    );
  });
});

describe("secondsText(seconds)", () => {
  it("keeps three digits", () => {
    expect([0.00123, 0.5, 1.239, 45.67, 278.4].map(secondsText)).toEqual([
      "1.23 ms",
      "500 ms",
      "1.24 s",
      "45.7 s",
      "278 s",
    ]);
  });
});

describe("parseTimes(text)", () => {
  it("reads what GNU time 1.9 -v writes", () => {
    const text = [
      '\tCommand being timed: "node main.js"',
      "\tUser time (seconds): 110.28",
      "\tSystem time (seconds): 1.43",
      "\tElapsed (wall clock) time (h:mm:ss or m:ss): 4:53.83",
      "\tMaximum resident set size (kbytes): 590376",
    ].join("\n");
    const { cpuS, peakMB } = parseTimes(text);
    expect(cpuS).toBeCloseTo(111.71, 10);
    expect(peakMB).toBeCloseTo(604.545024, 6);
  });

  it("says what it found where a line is missing", () => {
    expect(() => parseTimes("time: cannot run nonsense")).toThrow(
      /no line "User time"; found: time: cannot run/,
    );
  });
});
