/** Points and weights of Gauss-Legendre quadrature on [0, 1]. */
export interface UnitQuadrature {
  readonly nodes: Float64Array;
  readonly weights: Float64Array;
}

const known = new Map<number, UnitQuadrature>();

/**
 * The rule with `points` points: exact for polynomials up to degree 2·points − 1.
 * Source: Newton's method on the Legendre polynomial's three-term recurrence, Abramowitz and Stegun (1964), 25.4.29.
 */
export function unitQuadrature(points: number): UnitQuadrature {
  const made = known.get(points) ?? build(points);
  known.set(points, made);
  return made;
}

function build(points: number): UnitQuadrature {
  const nodes = new Float64Array(points);
  const weights = new Float64Array(points);
  for (let i = 0; i < points; i++) {
    let x = Math.cos((Math.PI * (i + 0.75)) / (points + 0.5));
    let slope = 0;
    for (let step = 0; step < 100; step++) {
      let before = 1;
      let value = x;
      for (let k = 2; k <= points; k++)
        [before, value] = [value, ((2 * k - 1) * x * value - (k - 1) * before) / k];
      slope = (points * (x * value - before)) / (x * x - 1);
      const move = value / slope;
      x -= move;
      if (Math.abs(move) < 1e-15) break;
    }
    nodes[i] = (1 - x) / 2;
    weights[i] = 1 / ((1 - x * x) * slope * slope);
  }
  return { nodes, weights };
}
