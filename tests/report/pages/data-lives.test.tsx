import { renderToString } from "preact-render-to-string";
import { describe, expect, it } from "vitest";
import type { Month } from "../../../src/interval/month-result.ts";
import { Exclusions, WhereFlown } from "../../../src/report/pages/data-lives.tsx";
import { makeMonth } from "../../support/make-month.ts";

const text = (html: string): string => html.replace(/<[^>]+>/g, " ").replace(/\s+/g, " ");
const flown = (month: Month): string => text(renderToString(<WhereFlown month={month} />));

/** The month with its first `weak` pieces of life placed by the later reading only. */
function withWeak(weak: number): { month: Month; pieces: number } {
  const month = makeMonth();
  let at = 0;
  const groups = month.groups.map((group) => ({
    ...group,
    lives: group.lives.map((life) =>
      at++ < weak ? { ...life, environmentFrom: "later reading" as const } : life,
    ),
  }));
  return { month: { ...month, groups }, pieces: at };
}

describe("WhereFlown({month})", () => {
  it("flags and counts pieces of life that only the later reading placed", () => {
    const { month, pieces } = withWeak(3);
    expect(flown(month)).toContain(`of ${pieces} pieces of life: some of the hours were placed only by`);
    expect(flown(month)).toContain("Only what the later reading records 3");
  });

  it("says so where none rests on that", () => {
    expect(flown(withWeak(0).month)).toContain("Every piece of life has its environment from hours flown");
  });
});

describe("Exclusions({month})", () => {
  it("lists at most 500 with their rows, counts the rest, and sums up reasons where they are many", () => {
    const exclusions = Array.from({ length: 501 }, (_, component) => ({
      component,
      reason: component < 400 ? "its hours can't be known" : "another reason",
      rows: [{ kind: "wear" as const, file: 0, line: component + 2 }],
    }));
    const shown = text(renderToString(<Exclusions month={makeMonth({ exclusions })} />));
    expect(shown).toMatch(/its hours can(&#39;|')t be known 400 400/);
    expect(shown).toContain("another reason 101 101");
    expect(shown).toContain("… and 1 more");
  });
});
