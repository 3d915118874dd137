/** Tests of what each choice costs and of the unsafe risk by exposure: by hand. */
import { describe, expect, it } from "vitest";
import { readFleet } from "../../src/fleet/read-fleet.ts";
import { choiceCosts } from "../../src/interval/costs.ts";
import type { Lines } from "../../src/interval/evidence.ts";
import type { SurvivalLine } from "../../src/interval/lines.ts";
import { looksPerLife } from "../../src/interval/over-limit-share.ts";
import { unsafeRates } from "../../src/interval/unsafe-rates.ts";
import { SMALL_FLEET_YAML } from "../support/fleet-yaml.ts";

describe("unsafeRates(unsafe, overLimit, intervalH)", () => {
  it("is 1 in 1000 of the 5 % of looks that find one: 5 in 100 000 looks, and at 400 h 2.5 times that per 1000 h", () => {
    const rates = unsafeRates(
      { estimate: 0.001, lower: null, upper: 0.002 },
      { estimate: 0.05, lower: 0.02, upper: 0.1 },
      400,
    )!;
    expect(rates.perLook).toEqual({ estimate: 0.00005, lower: null, upper: 0.0002 });
    expect(rates.per1000H.estimate).toBeCloseTo(0.000125, 15);
    expect(rates.per1000H.upper).toBeCloseTo(0.0005, 15);
  });

  it("has no bound where one of the two has none, and is none without an unsafe risk", () => {
    const share = { estimate: 0.05, lower: null, upper: null };
    expect(unsafeRates({ estimate: 0.1, lower: null, upper: 0.2 }, share, 400)!.perLook.upper).toBeNull();
    expect(unsafeRates(null, share, 400)).toBeNull();
  });
});

describe("looksPerLife(survival, spacingH)", () => {
  it("is 3 where all reach the limit at 900 h and looks come every 400 h: at 400, 800 and 1200 h", () => {
    expect(looksPerLife((hours) => (hours < 900 ? 1 : 0), 400)).toBe(3);
  });
});

describe("choiceCosts(task, risks, lines, otherRemovalsPerHour, hoursPerYear)", () => {
  const task = { ...readFleet(SMALL_FLEET_YAML, "fleet.yaml").tasks[0]!, manHours: 14 };
  const survival = (hours: number) => (hours < 900 ? 1 : 0);
  const line: SurvivalLine = {
    method: "life",
    standsOn: "",
    bounded: (quantity) => ({ estimate: quantity(survival), lower: null, upper: null }),
    estimated: (quantity) => quantity(survival),
  };
  const lines = { life: { kind: "line", line }, wear: { kind: "none", why: "" } } as unknown as Lines;
  const risk = {
    intervalH: 400,
    overLimitPerInspection: { life: null, wear: null },
    unsafeBeforeSeen: null,
  };

  it("counts 2.5 looks, 35 man-hours and 5/6 + 0.1 replacements per 1000 h at 400 h (by hand)", () => {
    const [row] = choiceCosts(task, [risk], lines, 0.0001, null).rows;
    expect(row).toMatchObject({ looksPer1000H: 2.5, manHoursPer1000H: 35, unsafe: null });
    // One replacement in three looks, 2.5 looks in 1000 h; and one in 10 000 h for other causes.
    expect(row!.replacementsPer1000H).toBeCloseTo(2.5 / 3 + 0.1, 12);
  });

  it("gives no man-hours where the task names none, no replacements without a line", () => {
    const none = { life: { kind: "none", why: "" }, wear: { kind: "none", why: "" } } as unknown as Lines;
    const [row] = choiceCosts({ ...task, manHours: null }, [risk], none, 0, null).rows;
    expect(row).toMatchObject({ manHoursPer1000H: null, replacementsPer1000H: null });
  });
});
