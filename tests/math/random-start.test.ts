import { describe, expect, it } from "vitest";
import { seededRandom } from "../../src/math/random.ts";

describe("seededRandom(seed)", () => {
  it("gives unlike first draws to neighbouring seeds (each once began with 1.0000)", () => {
    for (const draw of [0, 1, 2]) {
      const values = Array.from({ length: 400 }, (_, seed) => {
        const random = seededRandom(seed + 1);
        for (let k = 0; k < draw; k++) random.uniform();
        return random.uniform();
      });
      const mean = values.reduce((a, b) => a + b, 0) / values.length;
      const variance = values.reduce((a, b) => a + (b - mean) ** 2, 0) / values.length;
      // A uniform's mean 0.5 (standard error 0.0144) and variance 1/12 (standard error 0.0037), four errors wide.
      expect(Math.abs(mean - 0.5)).toBeLessThan(0.058);
      expect(Math.abs(variance - 1 / 12)).toBeLessThan(0.015);
      const neighbours = values.slice(1).reduce((sum, v, k) => sum + (v - mean) * (values[k]! - mean), 0);
      expect(Math.abs(neighbours / values.length / variance)).toBeLessThan(0.2);
    }
  });
});
