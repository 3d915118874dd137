import { describe, expect, it } from "vitest";
import type { Month } from "../../src/interval/month-result.ts";
import { changesSince } from "../../src/run/changes.ts";
import { type PreviousRun, parseRun } from "../../src/run/history.ts";
import { makeMonth } from "../support/make-month.ts";
import { smallStages } from "./make-run.ts";

/** A month as the next run reads it back. */
async function asPrevious(month: Month, fleetText: string | null = null): Promise<PreviousRun> {
  const file = (await smallStages.renderMonth(month)).find(({ path }) => path === "run.json")!;
  const content = Buffer.from(file.text);
  const reading = parseRun(content);
  if (reading.kind === "refused") throw new Error(reading.why);
  return { folder: "2026-02", sha256: "", content, run: reading.run, fleetText };
}

const FLEET =
  "acceptable: { confidence: 0.95 } # as agreed\nparts:\n  - { part: grip bearing, replace_at: 0.50 mm }\n";

const whats = (changes: readonly { what: string }[]) => changes.map((change) => change.what).join("\n");

describe("changesSince(previous, month, fleetText)", () => {
  it("finds nothing between a month and itself", async () => {
    expect(changesSince(await asPrevious(makeMonth()), makeMonth(), FLEET)).toEqual([]);
  });

  it("lists the settings that changed first, by key, and says with all that follows that they may be why", async () => {
    const month = makeMonth({ watchList: makeMonth().watchList.slice(1) });
    const earlier = makeMonth({ settingsSha256: "0".repeat(64) });
    const before = FLEET.replace("0.95", "0.90").replace("0.50 mm", "0.45 mm");
    const [first, ...rest] = changesSince(await asPrevious(earlier, before), month, FLEET);
    expect(first).toEqual({
      what: "2 settings changed",
      why: 'acceptable.confidence: 0.9 → 0.95; parts[grip bearing].replace_at: "0.45 mm" → "0.50 mm"',
    });
    expect(rest.length).toBeGreaterThan(0);
    for (const { why } of rest) expect(why).toMatch(/; the settings changed too, and may be why$/);
  });

  it("blames no setting where only a comment changed, and says where the earlier fleet file was not kept", async () => {
    const month = makeMonth({ watchList: makeMonth().watchList.slice(1) });
    const earlier = makeMonth({ settingsSha256: "0".repeat(64) });
    const before = FLEET.replace("as agreed", "to be agreed");
    const comment = changesSince(await asPrevious(earlier, before), month, FLEET);
    expect(comment[0]?.what).toBe("The fleet file changed in comments or layout only");
    expect(
      comment
        .slice(1)
        .map(({ why }) => why)
        .join(),
    ).not.toContain("may be why");
    const [unknown] = changesSince(await asPrevious(earlier), month, FLEET);
    expect(unknown?.why).toContain("000000000000 in 2026-02");
    expect(unknown?.why).toContain("was not kept");
  });

  it("gives a changed answer with both answers and the rules that turned", async () => {
    const month = makeMonth();
    const [one, ...others] = month.recommendations;
    const [rule, ...rules] = one!.evidence;
    const turned = { ...rule!, outcome: rule!.outcome === "passed" ? "failed" : "passed" } as const;
    const earlier = { ...one!, recommendation: "keep", row: 6, evidence: [turned, ...rules] } as const;
    const changes = changesSince(
      await asPrevious({ ...month, recommendations: [earlier, ...others] }),
      month,
      FLEET,
    );
    expect(changes).toHaveLength(1);
    expect(changes[0]?.what).toContain(`keep ${one!.recommendedIntervalH} h → ${one!.recommendation}`);
    expect(changes[0]?.why).toContain(`row 6 of the decision table then, row ${one!.row} now`);
    expect(changes[0]?.why).toContain(`${rule!.rule}: ${turned.outcome} then, ${rule!.outcome} now`);
  });

  it("lists recommendations new and withdrawn", async () => {
    const month = makeMonth();
    const fewer = { ...month, recommendations: month.recommendations.slice(1) };
    expect(whats(changesSince(await asPrevious(fewer), month, FLEET))).toContain(": new, ");
    expect(whats(changesSince(await asPrevious(month), fewer, FLEET))).toContain(
      ": recommendation withdrawn",
    );
  });

  it("lists inputs corrected after the fact, and ones that are gone", async () => {
    const month = makeMonth();
    const earlier = {
      ...month,
      inputs: month.inputs.map((input) => ({ ...input, sha256: "f".repeat(64), read: 7 })),
    };
    const changed = changesSince(await asPrevious(earlier), month, FLEET);
    expect(changed[0]?.why).toContain(`7 rows read then, ${month.inputs[0]!.read} now`);
    expect(whats(changesSince(await asPrevious(month), { ...month, inputs: [] }, FLEET))).toContain(
      "is no longer there",
    );
  });

  it("lists alerts raised and cleared, and components that enter and leave the watch list", async () => {
    const month = makeMonth();
    const toggled = {
      ...month,
      trends: month.trends.map((trend) => ({
        ...trend,
        alert: !trend.alert,
        alertWhy: "4 removals in March",
      })),
      watchList: month.watchList.slice(1),
    };
    const there = whats(changesSince(await asPrevious(month), toggled, FLEET));
    const back = whats(changesSince(await asPrevious(toggled), month, FLEET));
    expect(there + back).toContain("alert raised");
    expect(there + back).toContain("alert cleared");
    expect(there).toContain("1 off the watch list");
    expect(back).toContain("1 on the watch list that weren't");
  });
});

describe("parseRun(content)", () => {
  it("refuses another schema by name, and damage", () => {
    expect(parseRun(Buffer.from('{"schema":"rotorwear/run/9"}'))).toEqual({
      kind: "refused",
      why: 'it has schema "rotorwear/run/9", and this program reads rotorwear/run/1',
    });
    expect(parseRun(Buffer.from("{"))).toEqual({ kind: "refused", why: "it is damaged" });
    expect(parseRun(Buffer.from('{"schema":"rotorwear/run/1"}')).kind).toBe("refused");
  });
});
