/**
 * The standard normal quantile from tables, for loops that ask for it hundreds of thousands of times.
 *
 * The tables hold the library's own values with their exact first two derivatives: by the chance itself in the middle, and
 * by √(−2·log chance) in the tail; between them a quintic Hermite polynomial. Error below 1e-10; beyond the tables the
 * library answers.
 * Checked: tests/math/tabulated-quantile.test.ts
 */
import { standardNormalQuantile } from "./distributions.ts";
import { cellPolynomials, polynomialAt } from "./quintic.ts";

/** The middle: chances from here to a half. */
const MIDDLE_FROM = 0.02;
const MIDDLE_NODES = 513;
const MIDDLE_STEP = (0.5 - MIDDLE_FROM) / (MIDDLE_NODES - 1);

/** The tail: v = √(−2·log p) from the middle's end to about p = 1e-7. */
const TAIL_FROM = 2.75;
const TAIL_TO = 5.75;
const PER_UNIT = 32;
const TAIL_NODES = (TAIL_TO - TAIL_FROM) * PER_UNIT + 1;

const ROOT_2PI = Math.sqrt(2 * Math.PI);

const middle = new Float64Array(3 * MIDDLE_NODES);
for (let i = 0; i < MIDDLE_NODES; i++) {
  const z = standardNormalQuantile(MIDDLE_FROM + i * MIDDLE_STEP);
  // dz/dp = 1/φ(z), d²z/dp² = z/φ(z)².
  const slope = ROOT_2PI * Math.exp(0.5 * z * z);
  middle[3 * i] = z;
  middle[3 * i + 1] = slope * MIDDLE_STEP;
  middle[3 * i + 2] = z * (slope * MIDDLE_STEP) ** 2;
}

const tail = new Float64Array(3 * TAIL_NODES);
for (let i = 0; i < TAIL_NODES; i++) {
  const v = TAIL_FROM + i / PER_UNIT;
  const p = Math.exp(-0.5 * v * v);
  const z = standardNormalQuantile(p);
  // p = exp(−v²/2), so dp/dv = −v·p and dz/dv = −v·p/φ(z).
  const slope = -v * p * ROOT_2PI * Math.exp(0.5 * z * z);
  tail[3 * i] = z;
  tail[3 * i + 1] = slope / PER_UNIT;
  tail[3 * i + 2] = (slope / v - v * slope + z * slope * slope) / PER_UNIT ** 2;
}

const middleCells = cellPolynomials(middle);
const tailCells = cellPolynomials(tail);

/** The z with P(Z <= z) = p, 0 < p < 1. */
export function tabulatedNormalQuantile(p: number): number {
  return p > 0.5 ? -lowerHalf(1 - p) : lowerHalf(p);
}

function lowerHalf(p: number): number {
  if (p >= MIDDLE_FROM) {
    const place = (p - MIDDLE_FROM) / MIDDLE_STEP;
    const i = Math.min(MIDDLE_NODES - 2, Math.floor(place));
    return polynomialAt(middleCells, i, place - i);
  }
  const place = (Math.sqrt(-2 * Math.log(p)) - TAIL_FROM) * PER_UNIT;
  if (!(place < TAIL_NODES - 1)) return standardNormalQuantile(p);
  const i = Math.floor(place);
  return polynomialAt(tailCells, i, place - i);
}
