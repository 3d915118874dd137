import { describe, expect, it } from "vitest";
import { readFleet } from "../../src/fleet/read-fleet.ts";
import {
  extensionConfidence,
  isReviewMonth,
  lastDecision,
  reviewNumber,
} from "../../src/interval/history.ts";
import { SMALL_FLEET_YAML } from "../support/fleet-yaml.ts";
import { dayOfText } from "../support/make-exports.ts";

const withReviews = readFleet(`${SMALL_FLEET_YAML}reviews: [2023-04, 2024-04, 2025-04]\n`, "fleet.yaml");
const without = readFleet(SMALL_FLEET_YAML, "fleet.yaml");
const day = dayOfText;

describe("reviewNumber(fleet, since, asOf)", () => {
  it("counts the reviews since the last change; between them the next one is meant", () => {
    expect(reviewNumber(withReviews, null, day("2023-04-30"))).toBe(1);
    expect(reviewNumber(withReviews, null, day("2024-04-30"))).toBe(2);
    expect(reviewNumber(withReviews, null, day("2024-09-30"))).toBe(3);
  });

  it("starts again with a change of the interval: a review in the month of the change counts before it", () => {
    expect(reviewNumber(withReviews, day("2023-04-15"), day("2024-04-30"))).toBe(1);
    expect(reviewNumber(withReviews, day("2023-05-01"), day("2025-04-30"))).toBe(2);
  });

  it("is the first where no reviews are given", () => {
    expect(reviewNumber(without, null, day("2024-09-30"))).toBe(1);
    expect(isReviewMonth(without, day("2024-09-30"))).toBe(true);
    expect(isReviewMonth(withReviews, day("2024-09-30"))).toBe(false);
  });
});

describe("extensionConfidence(confidence, review)", () => {
  it("spends (1 − C)·2^−j at review j: 0.975, 0.9875, 0.99375 for 0.95 (by hand)", () => {
    const levels = [1, 2, 3].map((review) => extensionConfidence(0.95, review));
    expect(levels[0]).toBeCloseTo(0.975, 12);
    expect(levels[1]).toBeCloseTo(0.9875, 12);
    expect(levels[2]).toBeCloseTo(0.99375, 12);
  });

  it("stays within 1 − C over all reviews together", () => {
    const spent = Array.from({ length: 40 }, (_, j) => 1 - extensionConfidence(0.95, j + 1));
    expect(spent.reduce((sum, one) => sum + one, 0)).toBeLessThanOrEqual(0.05 + 1e-12);
  });
});

describe("lastDecision(fleet, task, group, asOf)", () => {
  const fleet = readFleet(
    `${SMALL_FLEET_YAML}
decisions:
  - { task: grip bearing wear check, interval: 300 h, on: 2022-01-01, outcome: approved }
  - { task: grip bearing wear check, environment: sandy, interval: 400 h, on: 2023-01-01, outcome: refused, revisit: 20 lives over 700 h }
`,
    "fleet.yaml",
  );
  const group = (environment: string) => ({ part: "grip bearing", environment, standard: "plain" });
  const outcome = (environment: string, asOf: string) =>
    lastDecision(fleet, fleet.tasks[0]!, group(environment), day(asOf))?.outcome ?? null;

  it("is the latest one that speaks for the group and was made by then", () => {
    expect(outcome("sandy", "2024-06-30")).toBe("refused");
    expect(outcome("sandy", "2022-06-30")).toBe("approved");
    expect(outcome("temperate", "2024-06-30")).toBe("approved");
    expect(outcome("sandy", "2021-12-31")).toBeNull();
  });
});
