import { h } from "preact";
import { renderToString } from "preact-render-to-string";
import { describe, expect, it } from "vitest";
import { emptyMonth } from "../../src/interval/empty-month.ts";
import { digest } from "../../src/report/files/digest.ts";
import { ActNow } from "../../src/report/pages/act-now.tsx";
import { raisedBy } from "../../src/run/raised.ts";
import { dayOfText } from "../support/make-exports.ts";
import { makeMonth } from "../support/make-month.ts";

/** A month whose rows up to the as-of day end on a day; the exports themselves may go on. */
function monthOf(asOf: string, latestUpToAsOf: string, latest = latestUpToAsOf) {
  const inputs = makeMonth().inputs.map((input) => ({ ...input, latestUpToAsOf: dayOfText(latestUpToAsOf) }));
  const month = asOf.slice(0, 7);
  return makeMonth({ asOf: dayOfText(asOf), month, latestDay: dayOfText(latest), inputs, actNow: [] });
}

describe("emptyMonth(month)", () => {
  it("says nothing where a row is of the month", () => {
    expect(emptyMonth(monthOf("2026-03-31", "2026-03-01"))).toBeNull();
  });

  it("tells a month after the last row, and one that is missing between others", () => {
    expect(emptyMonth(monthOf("2026-12-31", "2026-10-02"))).toBe(
      "the exports hold nothing of 2026-12: their latest date up to 2026-12-31 is 2026-10-02; have this month's come?",
    );
    expect(emptyMonth(monthOf("2026-04-30", "2026-03-30", "2026-05-31"))).toContain("nothing of 2026-04");
  });

  it("goes by the latest date of all where no row has one of its own (tables of lives)", () => {
    const month = monthOf("2026-04-30", "2026-03-30");
    const inputs = month.inputs.map((input) => ({ ...input, latestUpToAsOf: null }));
    expect(emptyMonth({ ...month, inputs })).toContain("is 2026-03-30");
    expect(emptyMonth({ ...month, inputs, latestDay: null })).toBeNull();
  });

  it('stands first on the page, and never beside "nothing to act on"', () => {
    const page = renderToString(
      h(ActNow, { lines: [], missing: emptyMonth(monthOf("2026-12-31", "2026-10-02")) }),
    );
    expect(page).toContain("The exports hold nothing of 2026-12");
    expect(page).not.toContain("Nothing to act on now");
    expect(renderToString(h(ActNow, { lines: [] }))).toContain("Nothing to act on now");
  });

  it("comes first among what digest.txt says to act on, and raises act", () => {
    const month = monthOf("2026-12-31", "2026-10-02");
    const [first, second] = digest(month).split("\n");
    expect(first).toContain("December 2026: no export holds a row of this month; ");
    expect(second).toMatch(/^ACT NOW: the exports hold nothing of 2026-12: /);
    expect(raisedBy(month)).toContain("act");
    expect(raisedBy(monthOf("2026-03-31", "2026-03-30"))).not.toContain("act");
  });
});
