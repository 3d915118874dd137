import { describe, expect, it } from "vitest";
import { parseLifeTable } from "../../src/life/parse-life-table.ts";
import { describeProblem } from "../../src/problems.ts";

const problemsOf = (text: string, by?: string) =>
  parseLifeTable(text, { file: "t.csv", ...(by === undefined ? {} : { by }) }).problems.map(describeProblem);

describe("parseLifeTable(text, options)", () => {
  it("reads exact, interval, left and running lives with entry, count and group, columns in any order", () => {
    const { groups, problems, rowsRead } = parseLifeTable(
      "\uFEFFgroup,Lower,Upper,count,entry,note\r\nsandy,100,100,,,a\r\nsandy,100,200,3,50,b\r\n\r\ncoast,0,150,,,c\r\nsandy,300,,2,,d\r\n",
    );
    expect(problems).toEqual([]);
    expect(rowsRead).toBe(4);
    expect(groups.map((group) => group.group)).toEqual(["sandy", "coast"]);
    const [sandy] = groups;
    expect([...sandy!.table.lowerHours]).toEqual([100, 100, 300]);
    expect([...sandy!.table.upperHours]).toEqual([100, 200, Number.POSITIVE_INFINITY]);
    expect([...sandy!.table.count]).toEqual([1, 3, 2]);
    expect([...sandy!.table.entryHours]).toEqual([0, 50, 0]);
  });

  it("groups by another column, or by none", () => {
    const text = "lower,upper,seal\n1,1,plain\n2,2,shielded\n";
    expect(parseLifeTable(text, { by: "Seal" }).groups.map((g) => g.group)).toEqual(["plain", "shielded"]);
    expect(parseLifeTable(text).groups.map((g) => g.group)).toEqual(["all"]);
    expect(problemsOf(text, "base")[0]).toContain('a column "base" to group by');
  });

  it("reports each bad cell with line and column", () => {
    const text = 'lower,upper,count\n1,2,1\n"1,5",2,1\n5,3,1\n0,0,1\n4,,1.5\nx,9,1\n-1,9,1\n,9,1\n1,2\n';
    expect(problemsOf(text)).toEqual([
      't.csv:3 lower: expected hours as a number, 0 or more, got "1,5" (a decimal comma? write 12.5) [E-TABLE]',
      't.csv:4 upper: expected at least lower (5), got "3" [E-TABLE]',
      't.csv:5 upper: expected an event after hour 0, got "0" [E-TABLE]',
      't.csv:6 count: expected a whole number of lives, 1 or more, got "1.5" [E-TABLE]',
      't.csv:7 lower: expected hours as a number, 0 or more, got "x" [E-TABLE]',
      't.csv:8 lower: expected hours as a number, 0 or more, got "-1" (hours can\'t be negative) [E-TABLE]',
      't.csv:9 lower: expected hours as a number, 0 or more, got "" (the cell is empty) [E-TABLE]',
      't.csv:10: expected 3 cells, got "1,2" (decimal commas? write hours with a point) [E-TABLE]',
    ]);
  });

  it("an entry after the last good look can't be", () => {
    expect(problemsOf("entry,lower,upper\n50,40,60\n")[0]).toContain(
      "t.csv:2 entry: expected at most lower (40)",
    );
  });

  it("asks for headings, rows, and each heading once", () => {
    expect(problemsOf("")[0]).toContain("a heading line");
    expect(problemsOf("1,2\n3,4\n")[0]).toContain("headings [entry,]lower,upper[,count][,group]");
    expect(problemsOf("lower,upper\n")[0]).toContain("rows under the headings");
    expect(problemsOf("lower,upper,lower\n1,2,3\n")[0]).toContain("each heading once");
    expect(problemsOf('lower,upper\n1,"2\n')[0]).toContain("a quote that is not closed?");
  });
});
