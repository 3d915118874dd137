import { describe, expect, it } from "vitest";
import { cellsOf, withCellCalls } from "../../notebooks/cells.ts";
import { blocksOf } from "../../notebooks/markdown.tsx";

const NOTEBOOK = [
  "// %% [markdown]",
  "// # Title",
  "//",
  "// Words.",
  "",
  "// %% First",
  "const a = 1;",
  "// %%",
  "const b = 2;",
].join("\n");

describe("cellsOf(text, name)", () => {
  it("cuts at the markers and numbers the code cells", () => {
    expect(cellsOf(NOTEBOOK, "n")).toEqual([
      { kind: "markdown", line: 1, text: "# Title\n\nWords." },
      { kind: "code", number: 1, line: 6, title: "First", source: "const a = 1;" },
      { kind: "code", number: 2, line: 8, title: "cell 2", source: "const b = 2;" },
    ]);
  });

  it("refuses code before the first marker and in a markdown cell, with the line", () => {
    expect(() => cellsOf("const a = 1;\n// %%\n", "n")).toThrow("n:1:");
    expect(() => cellsOf("// %% [markdown]\n// Words\nconst a = 1;\n", "n")).toThrow("n:3:");
  });
});

describe("withCellCalls(text, hook)", () => {
  it("calls the hook at each code cell and leaves every line where it was", () => {
    const lines = withCellCalls(NOTEBOOK, "hook").split("\n");
    expect(lines).toHaveLength(NOTEBOOK.split("\n").length);
    expect([lines[5], lines[7]]).toEqual([';globalThis["hook"](1);', ';globalThis["hook"](2);']);
    expect(lines[0]).toBe("// %% [markdown]");
  });
});

describe("blocksOf(text)", () => {
  it("sets headings apart from what stands under them", () => {
    expect(blocksOf("# One\n\nWords\nand more.\n\n- a\n- b").map((block) => block.kind)).toEqual([
      "heading",
      "body",
      "body",
    ]);
  });
});
