import { describe, expect, it } from "vitest";
import { settingChanges } from "../../src/run/setting-changes.ts";

const BEFORE = `
parts:
  - { part: grip bearing, part_numbers: [GB-1] }
tasks:
  - { task: wear check, interval: 600 h }
decisions:
  - { task: wear check, interval: 600 h, outcome: approved }
`;

describe("settingChanges(before, after)", () => {
  it("tells parts and tasks apart by name, whatever their order", () => {
    const after = BEFORE.replace("tasks:\n", "tasks:\n  - { task: seal check, interval: 200 h }\n");
    expect(settingChanges(BEFORE, after)).toEqual([
      'tasks[seal check].task: not given → "seal check"',
      'tasks[seal check].interval: not given → "200 h"',
    ]);
  });

  it("names a new part number, a decision added and a key that is gone", () => {
    const after = `${BEFORE.replace("[GB-1]", "[GB-1, GB-3]").replace(", interval: 600 h }", " }")}  - { task: wear check, outcome: refused }\n`;
    expect(settingChanges(BEFORE, after)).toEqual([
      'parts[grip bearing].part_numbers[2]: not given → "GB-3"',
      'decisions[2].task: not given → "wear check"',
      'decisions[2].outcome: not given → "refused"',
      'tasks[wear check].interval: "600 h" → not given',
    ]);
  });

  it("finds nothing where only comments, layout or the order of keys differ", () => {
    expect(settingChanges("a: 1\nb: 2\n", "# both\nb: 2\n\na:   1\n")).toEqual([]);
  });
});
