import { renderToString } from "preact-render-to-string";
import { describe, expect, it } from "vitest";
import { STUDY } from "../../../src/interval/study-result.ts";
import type { StudyRow, StudyTable } from "../../../src/interval/study-table.ts";
import { clopperPearson } from "../../../src/math/exact-bounds.ts";
import { CheckedAgainst, KnownTruth } from "../../../src/report/pages/method-checks.tsx";
import { REFERENCE_CHECKS } from "../../../src/report/pages/reference-checks.ts";

const text = (html: string) =>
  html
    .replace(/<[^>]+>/g, " ")
    .replace(/\s+/g, " ")
    .trim();

describe("CheckedAgainst", () => {
  it("has a row for each check, with its source, its difference and what is allowed", () => {
    const page = renderToString(<CheckedAgainst />);
    expect(page.match(/<tr>/g)).toHaveLength(1 + REFERENCE_CHECKS.length);
    expect(text(page)).toContain("NIST/SEMATECH e-Handbook, 8.4.1.3 under 10 −5 10 −4");
    expect(text(page)).toContain("with late entry R, the likelihood by optim under 10 −7 2 × 10 −5");
  });
});

describe("KnownTruth", () => {
  const of = (n: number, all: number) => ({ n, of: all, ...limits(n, all) });
  const limits = (n: number, all: number) => {
    const { lower, upper } = clopperPearson(n, all, 0.95);
    return { lower, upper };
  };
  const row: StudyRow = {
    kind: "even wear",
    fleets: 400,
    unsafe: of(1, 120),
    unsafeWhereMany: of(0, 30),
    everExtended: of(2, 100),
    missed: of(3, 90),
    missedWhereFew: of(9, 20),
    wearBoundUnder: of(9, 400),
    unsafeBoundUnder: of(1, 200),
  };
  const study: StudyTable = {
    ...{ commit: "0123abc", date: "2026-11-25", seeds: "1 to 400", runs: 1 },
    ...{ all: { ...row, kind: "all kinds" }, rows: [row] },
    overshoot: { p95: 0.61, largest: 1.07 },
    power: of(81, 100),
    powerBy: [{ from: 1.5, to: null, extended: of(40, 50) }],
    needless: of(30, 100),
  };

  it("says nothing where there was no study", () => {
    expect(renderToString(<KnownTruth study={null} />)).toBe("");
  });

  it("has each kind of fleet with its limits, the commit and the seeds", () => {
    const page = text(renderToString(<KnownTruth study={study} />));
    expect(page).toContain("commit 0123abc, 2026-11-25; seeds 1 to 400, run once");
    expect(page).toContain("even wear 400 1 of 120 (at most 4.6 %)");
    expect(page).toContain("81 of 100 (at most 89 %) got an extension");
  });

  it("is shipped with counts that can be true, limits recomputed", () => {
    const { all, rows, power, needless } = STUDY ?? study;
    const every = [...rows, all].flatMap((each) => [
      ...[each.unsafe, each.unsafeWhereMany, each.everExtended, each.missed, each.missedWhereFew],
      ...[each.wearBoundUnder, each.unsafeBoundUnder],
    ]);
    for (const { n, of: asked, lower, upper } of [...every, power, needless]) {
      expect(n).toBeLessThanOrEqual(asked);
      if (asked > 0) expect({ lower, upper }).toEqual(limits(n, asked));
    }
    for (const each of rows) expect(each.unsafe.of).toBeLessThanOrEqual(each.fleets);
  });
});
