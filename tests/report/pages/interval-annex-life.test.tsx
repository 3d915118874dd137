import { renderToString } from "preact-render-to-string";
import { describe, expect, it } from "vitest";
import type { LifeChecks } from "../../../src/interval/life-findings.ts";
import type { GroupResult } from "../../../src/interval/month-result.ts";
import { LifeTrust, Modes } from "../../../src/report/pages/interval-annex-life.tsx";
import { makeMonth } from "../../support/make-month.ts";

const month = makeMonth();
const [first] = month.groups;
const rendered = (group: GroupResult) => {
  const props = { month, group, recommendation: month.recommendations[0]! };
  return renderToString(
    <>
      <LifeTrust {...props} />
      <Modes {...props} modeFigure={null} />
    </>,
  )
    .replace(/<[^>]+>/g, " ")
    .replace(/\s+/g, " ");
};
const withChecks = (checks: Partial<LifeChecks>) =>
  rendered({ ...first!, lifeChecks: { ...first!.lifeChecks!, ...checks } });

describe("LifeTrust", () => {
  it("says what else fits, what it would change, whether the curve agrees, who moves it, and shortcuts", () => {
    const text = rendered(first!);
    expect(text).toContain(
      "Lognormal: it fits no better (AIC 3.1 higher); over limit per look, with looks 660 h apart (the tolerance used up), would be 1.3 % instead of 1.2 %.",
    );
    expect(text).toContain(
      "It agrees with the curve that the lives give by themselves: outside its 95 % bounds at 0 of 14 points, no more than chance may put there (one point in 20, and two standard errors of that)",
    );
    expect(text).toContain(
      "Moved most: without aircraft RW-03 (5 lives): 8 % longer, component 0007: 5 % longer and component 0011: nothing can be fitted.",
    );
    expect(text).toContain("makes the 10 % life 14 % too short (1438 h instead of 1663 h).");
  });

  it("says a misfit plainly", () => {
    const text = withChecks({
      alternative: { ...first!.lifeChecks!.alternative!, aicDifference: -5.2 },
      curve: { points: 20, outside: 7, greatestDistance: 0.13, atHours: 640, agrees: false },
    });
    expect(text).toContain("it fits better (AIC 5.2 lower)");
    expect(text).toContain("It does not agree with the curve");
    expect(text).toContain(
      "at 7 of 20 points, more than chance would put there (one point in 20, and two standard errors of that); farthest at 640 h, by 13 percentage points",
    );
  });

  it("says what could not be checked, and stands only beside a fit", () => {
    const text = withChecks({ alternative: null, curve: null, influence: [], shortcuts: [] });
    expect(text).toContain("No other distribution could be set against it.");
    expect(text).toContain("the lives give no curve with bounds");
    expect(text).not.toContain("Shortcuts");
    expect(rendered({ ...first!, lifeChecks: null })).not.toContain("Trust in the life fit");
  });
});

describe("Modes", () => {
  it("has each mode's chance with the others competing, and alone, and its Weibull or why there is none", () => {
    const text = rendered(first!);
    expect(text).toContain("over the limit 21 31 (22–40) 34 3.6 (2.7–4.7) 1310 h (1120–1490)");
    expect(text).toContain("seal 4 5.0 (2.0–11) 7.0 1.3 (at least 0.5) 2900 h (at least 1400)");
    const none = { ...first!.modes, modes: [] };
    expect(rendered({ ...first!, modes: none })).toContain("No component was found over the limit");
  });
});
