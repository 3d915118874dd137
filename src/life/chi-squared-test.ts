/** A test statistic that is chi-squared where there is no difference. */
import { chiSquaredCdf } from "../math/distributions.ts";

export interface ChiSquaredTest {
  readonly chiSquared: number;
  readonly degreesOfFreedom: number;
  readonly p: number;
}

export function chiSquaredTest(chiSquared: number, degreesOfFreedom: number): ChiSquaredTest {
  const value = Math.max(0, chiSquared);
  return { chiSquared: value, degreesOfFreedom, p: 1 - chiSquaredCdf(value, degreesOfFreedom) };
}
