import { describe, expect, it } from "vitest";
import { goBackNumber } from "../../src/interval/go-back.ts";

describe("goBackNumber(looks, promisedShare, confidence)", () => {
  // R 4.2.2: for (n in c(20,40,60)) for (p in c(0.01,0.035,0.1)) qbinom(0.95, n, p) + 1
  it.each([
    [20, 0.01, 2],
    [20, 0.035, 3],
    [20, 0.1, 5],
    [40, 0.01, 3],
    [40, 0.035, 5],
    [40, 0.1, 8],
    [60, 0.01, 3],
    [60, 0.035, 6],
    [60, 0.1, 11],
  ])("of %i looks at a share of %f is %i, as R's qbinom + 1", (looks, share, count) => {
    expect(goBackNumber(looks, share, 0.95)).toBe(count);
  });

  it("is more than the looks where no count would be that rare", () => {
    expect(goBackNumber(2, 0.5, 0.95)).toBe(3);
    expect(goBackNumber(0, 0.1, 0.95)).toBe(1);
  });

  it("is one find where none was promised", () => {
    expect(goBackNumber(60, 0, 0.95)).toBe(1);
  });
});
