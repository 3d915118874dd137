import { renderToString } from "preact-render-to-string";
import { describe, expect, it } from "vitest";
import { CheckedAgainst, KnownTruth } from "../../../src/report/pages/method-checks.tsx";
import { REFERENCE_CHECKS } from "../../../src/report/pages/reference-checks.ts";
import { STUDY } from "../../../src/report/pages/study-table.ts";

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
  const row = { kind: "even wear", fleets: 400, extensions: 120, unsafe: 1, unsafeUpper: 0.0118 };

  it("says nothing where there was no study", () => {
    expect(renderToString(<KnownTruth study={null} />)).toBe("");
  });

  it("has each kind of fleet, the commit and the seeds", () => {
    const study = { commit: "0123abc", date: "2026-11-25", seeds: "1 to 400", rows: [row] };
    const page = text(renderToString(<KnownTruth study={study} />));
    expect(page).toContain("commit 0123abc, 2026-11-25, seeds 1 to 400");
    expect(page).toContain("even wear 400 120 1 1.2");
  });

  it("is shipped with counts that can be true", () => {
    for (const { fleets, extensions, unsafe, unsafeUpper } of STUDY?.rows ?? [row]) {
      expect(extensions).toBeLessThanOrEqual(fleets);
      expect(unsafe).toBeLessThanOrEqual(extensions);
      expect(unsafeUpper).toBeGreaterThan(unsafe / fleets);
    }
  });
});
