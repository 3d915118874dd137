import { describe, expect, it } from "vitest";
import { wrapped } from "../../src/cli/wrap.ts";

describe("wrapped(text, columns)", () => {
  it("breaks at spaces and goes on under the first word after a label", () => {
    expect(wrapped("  caution   one two three four five\nshort", 30)).toBe(
      "  caution   one two three four\n            five\nshort",
    );
  });

  it("leaves a word that is longer than a line whole, and loses none", () => {
    const text = `a ${"x".repeat(40)} b`;
    expect(wrapped(text, 20)).toBe(`a\n${"x".repeat(40)}\nb`);
    expect(wrapped("x".repeat(40), 20)).toBe("x".repeat(40));
  });
});
