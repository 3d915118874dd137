/**
 * Quintic Hermite interpolation in a table of values, slopes and second derivatives (each in steps of the table), three
 * numbers a node: error at most h⁶/46080 times the sixth derivative.
 */

/** The polynomials of a table written out, six coefficients for each of its cells, from the constant up. */
export function cellPolynomials(table: Float64Array): Float64Array {
  const cells = table.length / 3 - 1;
  const polynomials = new Float64Array(6 * cells);
  for (let cell = 0; cell < cells; cell++) {
    const at = 3 * cell;
    const a = table[at]!;
    const b = table[at + 1]!;
    const c = table[at + 2]! / 2;
    // What is left at the far end once value, slope and bend of the near end are carried there.
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

/** The value at t of the way through a cell, 0 to 1. */
export function polynomialAt(cells: Float64Array, cell: number, t: number): number {
  const at = 6 * cell;
  const high = t * (cells[at + 3]! + t * (cells[at + 4]! + t * cells[at + 5]!));
  return cells[at]! + t * (cells[at + 1]! + t * (cells[at + 2]! + high));
}
