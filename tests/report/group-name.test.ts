import { describe, expect, it } from "vitest";
import type { Bounded, RiskAtInterval } from "../../src/interval/month-result.ts";
import { worseOverLimit } from "../../src/report/group-name.ts";

const bounded = (estimate: number, upper: number | null): Bounded => ({ estimate, lower: null, upper });
const worse = (life: Bounded | null, wear: Bounded | null) =>
  worseOverLimit({ overLimitPerInspection: { life, wear } } as RiskAtInterval);

describe("worseOverLimit(risk)", () => {
  it("gives estimate and bound as the decision takes them, each the worse, and says whence", () => {
    expect(worse(bounded(0.048, 0.117), bounded(0.071, 0.09))).toEqual({
      from: "from lives and wear, the worse of each",
      share: bounded(0.071, 0.117),
    });
    expect(worse(bounded(0.08, 0.117), bounded(0.071, 0.09))).toEqual({
      from: "from lives",
      share: bounded(0.08, 0.117),
    });
    expect(worse(bounded(0.01, 0.02), bounded(0.071, 0.09))?.from).toBe("from wear");
    expect(worse(bounded(0.05, 0.02), bounded(0.05, 0.09))?.from).toBe("from wear");
    expect(worse(null, bounded(0.071, 0.09))?.from).toBe("from wear");
    expect(worse(null, null)).toBeNull();
  });

  it("has no bound where one of two methods has none", () => {
    expect(worse(bounded(0.01, null), bounded(0.071, 0.09))?.share.upper).toBeNull();
  });
});
