/** Nodes and weights with Σ weight·f(node) ≈ E f(Z) for a standard normal Z; exact for polynomials to 2n − 1. */
import { power } from "./power.ts";
export interface NormalQuadrature {
  readonly nodes: Float64Array;
  readonly weights: Float64Array;
}

const known = new Map<number, NormalQuadrature>();

/**
 * Gauss-Hermite quadrature for the standard normal distribution (probabilists' form), by Newton steps on the
 * orthonormal polynomials from the usual asymptotic starts.
 *
 * Source: Press, Teukolsky, Vetterling and Flannery (2007), Numerical Recipes, 3rd ed., section 4.6, from memory;
 * checked against moments of the normal distribution.
 */
export function normalQuadrature(points: number): NormalQuadrature {
  const ready = known.get(points);
  if (ready !== undefined) return ready;
  const nodes = new Float64Array(points);
  const weights = new Float64Array(points);
  const roots: number[] = [];
  for (let i = 0; i < Math.floor((points + 1) / 2); i++) {
    const { root, derivative } = hermiteRoot(points, startFor(points, i, roots));
    roots.push(root);
    nodes[i] = -root * Math.SQRT2;
    nodes[points - 1 - i] = root * Math.SQRT2;
    const weight = 2 / (derivative * derivative) / Math.sqrt(Math.PI);
    weights[i] = weight;
    weights[points - 1 - i] = weight;
  }
  if (points % 2 === 1) nodes[(points - 1) / 2] = 0;
  const rule = { nodes, weights };
  known.set(points, rule);
  return rule;
}

/** Starts for the roots from the largest down. */
function startFor(points: number, i: number, roots: readonly number[]): number {
  const n = 2 * points + 1;
  if (i === 0) return Math.sqrt(n) - 1.85575 * power(n, -1 / 6);
  const last = roots[i - 1]!;
  if (i === 1) return last - (1.14 * power(points, 0.426)) / last;
  if (i === 2) return 1.86 * last - 0.86 * roots[0]!;
  if (i === 3) return 1.91 * last - 0.91 * roots[1]!;
  return 2 * last - roots[i - 2]!;
}

function hermiteRoot(points: number, start: number): { root: number; derivative: number } {
  let x = start;
  let derivative = 0;
  for (let step = 0; step < 60; step++) {
    let p1 = power(Math.PI, -0.25);
    let p2 = 0;
    for (let j = 0; j < points; j++) {
      const p3 = p2;
      p2 = p1;
      p1 = x * Math.sqrt(2 / (j + 1)) * p2 - Math.sqrt(j / (j + 1)) * p3;
    }
    derivative = Math.sqrt(2 * points) * p2;
    const next = x - p1 / derivative;
    if (Math.abs(next - x) < 1e-15 * Math.max(1, Math.abs(x))) return { root: next, derivative };
    x = next;
  }
  return { root: x, derivative };
}
