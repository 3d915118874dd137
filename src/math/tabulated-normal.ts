/**
 * The standard normal distribution function from a table, for loops that ask for it millions of times.
 *
 * The table holds the library's own values and their exact first two derivatives every 1/64; between them a quintic
 * Hermite polynomial. Absolute error below 1e-14, relative error in the lower tail below 1e-9 down to −8; beyond ±8 the
 * library answers.
 * Checked: tests/math/tabulated-normal.test.ts
 */
import { logStandardNormalCdf, standardNormalCdf } from "./distributions.ts";
import { cellPolynomials, polynomialAt } from "./quintic.ts";

const EDGE = 8;
const PER_UNIT = 64;
const NODES = 2 * EDGE * PER_UNIT + 1;
/** From here on the answer is 1 to the last digit. */
const ONE_FROM = 8.3;

/** Value, slope and bend in steps of the table, node after node. */
const table = new Float64Array(3 * NODES);
for (let i = 0; i < NODES; i++) {
  const z = i / PER_UNIT - EDGE;
  const density = Math.exp(-0.5 * z * z) / Math.sqrt(2 * Math.PI);
  table[3 * i] = standardNormalCdf(z);
  table[3 * i + 1] = density / PER_UNIT;
  table[3 * i + 2] = (-z * density) / PER_UNIT ** 2;
}

const cells = cellPolynomials(table);

/** P(Z <= z). */
export function tabulatedNormalCdf(z: number): number {
  if (!(z > -EDGE && z < EDGE)) return z >= ONE_FROM ? 1 : standardNormalCdf(z);
  const place = (z + EDGE) * PER_UNIT;
  const cell = Math.trunc(place);
  return polynomialAt(cells, cell, place - cell);
}

/** The same to 1e-15 and no closer: 0 below −8. For sums in which such a tail is nothing. */
export const normalCdfInSums = (z: number): number => (z > -EDGE ? tabulatedNormalCdf(z) : 0);

/** log P(Z <= z): from the table above −5, where a logarithm keeps all its digits. */
export const tabulatedLogNormalCdf = (z: number): number =>
  z > -5 ? Math.log(tabulatedNormalCdf(z)) : logStandardNormalCdf(z);
