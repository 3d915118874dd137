import { describe, expect, it } from "vitest";
import { fitWeibull } from "../../src/life/weibull-fit.ts";
import { livesByMode, modeOf, modeTables, OVER_LIMIT_MODE } from "../../src/records/mode-lives.ts";
import { makeLife } from "./make-life.ts";

const removal = (mode: string, more: { inService?: boolean; noFaultFound?: boolean } = {}) => ({
  mode,
  inService: more.inService ?? false,
  noFaultFound: more.noFaultFound ?? false,
});
const good = { readingHours: [300, 600] };

/** 300 ──── 600 and then, by hand: */
const over = makeLife({ ...good, lowerHours: 300, upperHours: 600, end: "over limit found", lastHours: 600 });
const sealAtLook = makeLife({ ...good, end: "removed", lastHours: 600, removal: removal("seal") });
const sealInService = makeLife({
  ...good,
  end: "removed",
  lastHours: 720,
  removal: removal("seal", { inService: true }),
});
const cleared = makeLife({
  ...good,
  end: "removed",
  lastHours: 650,
  removal: removal("seal", { noFaultFound: true }),
});
const convenience = makeLife({ ...good, end: "removed", lastHours: 650, removal: removal("not a failure") });
const running = makeLife(good);
const all = [over, sealAtLook, sealInService, cleared, convenience, running];
const cluster = new Int32Array(all.length).fill(-1);
const rowsOf = (mode: string) => {
  const table = modeTables(all, cluster)(mode);
  return all.map((_, i) => [table.lowerHours[i], table.upperHours[i]]);
};
const RUNNING = Number.POSITIVE_INFINITY;

describe("modeOf(life)", () => {
  it("is over the limit, the removal's mode, or none: no failure, no fault found, still fitted", () => {
    expect(all.map(modeOf)).toEqual([OVER_LIMIT_MODE, "seal", "seal", null, null, null]);
  });

  it("keeps wear below the limit apart from the event that drives intervals", () => {
    const early = makeLife({ ...good, end: "removed", removal: removal("wear") });
    expect(modeOf(early)).toBe("wear, removed below the limit");
    const counted = makeLife({ ...early, end: "early removal", lowerHours: 300, upperHours: 600 });
    expect(modeOf(counted)).toBe(OVER_LIMIT_MODE);
  });
});

describe("modeTables(lives, cluster)(mode): each mode with the others as censoring", () => {
  it("over the limit: as its event, every other life good at its last look", () => {
    expect(rowsOf(OVER_LIMIT_MODE)).toEqual([
      [300, 600],
      [600, RUNNING],
      [600, RUNNING],
      [600, RUNNING],
      [600, RUNNING],
      [600, RUNNING],
    ]);
  });

  it("seal: since the look before where a look found it, exact in service; over the limit only ends observation", () => {
    expect(rowsOf("seal")).toEqual([
      [600, RUNNING],
      [300, 600],
      [720, 720],
      [600, RUNNING],
      [600, RUNNING],
      [600, RUNNING],
    ]);
  });

  it("a removal at 0 h says nothing of lives by hours", () => {
    const removal = { mode: "seal", inService: true, noFaultFound: false };
    const life = makeLife({ lastHours: 0, end: "removed", removal });
    const table = modeTables([life], Int32Array.of(-1))("seal");
    expect([table.lowerHours[0], table.upperHours[0]]).toEqual([0, Number.POSITIVE_INFINITY]);
    expect(fitWeibull(table).events).toBe(0);
  });
});

describe("livesByMode(lives)", () => {
  it("has the hours at which each came to light, from those really watched", () => {
    const late = makeLife({ ...good, entryHours: 100, observedFromHours: 150 });
    expect(livesByMode([over, sealInService, late])).toEqual([
      { entryHours: 0, hours: 600, mode: OVER_LIMIT_MODE },
      { entryHours: 0, hours: 720, mode: "seal" },
      { entryHours: 150, hours: 600, mode: null },
    ]);
  });
});
