/**
 * Quintic Hermite interpolation in a table of values, slopes and second derivatives (each in steps of the table), three
 * numbers a node: error at most h⁶/46080 times the sixth derivative. At t of the way from the node at `at` to the next.
 */
export function quinticAt(table: Float64Array, at: number, t: number): number {
  const a = table[at]!;
  const b = table[at + 1]!;
  const c = table[at + 2]! / 2;
  // What is left at the far end once value, slope and bend of the near end are carried there.
  const value = table[at + 3]! - a - b - c;
  const slope = table[at + 4]! - b - 2 * c;
  const bend = table[at + 5]! / 2 - c;
  const d = 10 * value - 4 * slope + bend;
  const e = -15 * value + 7 * slope - 2 * bend;
  const f = 6 * value - 3 * slope + bend;
  return a + t * (b + t * (c + t * (d + t * (e + t * f))));
}

/**
 * The same polynomials written out, six coefficients for each cell of the table, from the constant up: for tables that are
 * asked far more often than they have cells.
 */
export function cellPolynomials(table: Float64Array): Float64Array {
  const cells = table.length / 3 - 1;
  const polynomials = new Float64Array(6 * cells);
  for (let cell = 0; cell < cells; cell++) {
    const at = 3 * cell;
    const a = table[at]!;
    const b = table[at + 1]!;
    const c = table[at + 2]! / 2;
    const value = table[at + 3]! - a - b - c;
    const slope = table[at + 4]! - b - 2 * c;
    const bend = table[at + 5]! / 2 - c;
    const rest = [
      10 * value - 4 * slope + bend,
      -15 * value + 7 * slope - 2 * bend,
      6 * value - 3 * slope + bend,
    ];
    polynomials.set([a, b, c, ...rest], 6 * cell);
  }
  return polynomials;
}
