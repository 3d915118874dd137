/** Where a function is least, or that the search ended without a minimum. */
export type Minimum =
  | { kind: "found"; at: Float64Array; value: number; gradient: Float64Array; iterations: number }
  | { kind: "not-converged"; at: Float64Array; value: number; gradient: Float64Array; iterations: number };

export interface MinimiseOptions {
  /** Gradient of the function. __Default value:__ central differences. */
  readonly gradient?: (x: Float64Array) => Float64Array;
  /** Stops when a step promises less than this, relative to 1 + |value|. __Default value:__ 1e-13 */
  readonly tolerance?: number;
  /** __Default value:__ 500 */
  readonly maxIterations?: number;
  /** What is known beforehand of the inverse of the second derivatives (row-major). __Default value:__ the identity */
  readonly inverse?: Float64Array;
}

/**
 * The same for a function that one pass gives together with its gradient, which it puts into the array given: a step that
 * the line search accepts is then not gone through again.
 */
export function minimiseWithGradient(
  evaluate: (x: Float64Array, gradient: Float64Array) => number,
  start: ArrayLike<number>,
  options: Omit<MinimiseOptions, "gradient"> = {},
): Minimum {
  let last: { readonly x: Float64Array; readonly gradient: Float64Array } | null = null;
  const f = (x: Float64Array) => {
    last = { x, gradient: new Float64Array(x.length) };
    return evaluate(x, last.gradient);
  };
  const gradient = (x: Float64Array) => {
    if (last?.x !== x) f(x);
    return last!.gradient;
  };
  return minimise(f, start, { ...options, gradient });
}

/**
 * Minimum of a smooth function of a few variables, by BFGS with a backtracking (Armijo) line search.
 *
 * A function may answer Infinity (or NaN) outside its domain: the line search steps back from there. It does so from -Infinity
 * as well, which is a chance that ran out of digits and no minimum.
 * Scale the variables so that a step of 1 is sensible (logarithms of positive quantities are).
 * Source: Nocedal and Wright (2006), Numerical Optimization, 2nd ed., algorithm 6.1.
 */
export function minimise(
  f: (x: Float64Array) => number,
  start: ArrayLike<number>,
  options: MinimiseOptions = {},
): Minimum {
  const { tolerance = 1e-13, maxIterations = 500 } = options;
  const gradientAt = options.gradient ?? ((x: Float64Array) => centralGradient(f, x));
  const n = start.length;
  let x: Float64Array = Float64Array.from(start);
  let value = f(x);
  if (!Number.isFinite(value)) {
    return { kind: "not-converged", at: x, value, gradient: x.map(() => Number.NaN), iterations: 0 };
  }
  let gradient = gradientAt(x);
  let inverse = options.inverse?.slice() ?? identity(n);
  let restarted = false;
  for (let iteration = 1; iteration <= maxIterations; iteration++) {
    let direction: Float64Array = multiply(inverse, gradient, n, -1);
    let slope = dot(direction, gradient);
    if (!(slope < 0)) {
      inverse = identity(n);
      direction = gradient.map((g) => -g);
      slope = dot(direction, gradient);
    }
    const done = { kind: "found", at: x, value, gradient, iterations: iteration } as const;
    if (-slope <= tolerance * (1 + Math.abs(value))) return done;
    const step = lineSearch(f, x, value, direction, slope);
    if (step === null || value - step.value <= roundingOf(value)) {
      // No lower point that is more than rounding along this direction: once more from steepest descent, then it is the minimum we can see.
      if (restarted) return -slope < 1e-6 * (1 + Math.abs(value)) ? done : { ...done, kind: "not-converged" };
      restarted = true;
      inverse = identity(n);
      continue;
    }
    restarted = false;
    const nextGradient = gradientAt(step.x);
    updateInverse(inverse, step.x, x, nextGradient, gradient, n);
    x = step.x;
    value = step.value;
    gradient = nextGradient;
  }
  return { kind: "not-converged", at: x, value, gradient, iterations: maxIterations };
}

/** What a sum of so many terms may be off by: a gain of less is none, and chasing it can go on for ever. */
const roundingOf = (value: number): number => 1e-14 * (1 + Math.abs(value));

/** Gradient by central differences with steps of cube-root machine precision. */
export function centralGradient(f: (x: Float64Array) => number, x: Float64Array): Float64Array {
  const gradient = new Float64Array(x.length);
  const moved = Float64Array.from(x);
  for (let i = 0; i < x.length; i++) {
    const h = 6e-6 * Math.max(1, Math.abs(x[i]!));
    moved[i] = x[i]! + h;
    const above = f(moved);
    moved[i] = x[i]! - h;
    const below = f(moved);
    moved[i] = x[i]!;
    gradient[i] = (above - below) / (2 * h);
  }
  return gradient;
}

/** Matrix of second derivatives by central differences of the gradient (row-major, symmetrised). */
export function centralHessian(
  f: (x: Float64Array) => number,
  x: Float64Array,
  gradient: (x: Float64Array) => Float64Array = (at) => centralGradient(f, at),
): Float64Array {
  const n = x.length;
  const raw = new Float64Array(n * n);
  const moved = Float64Array.from(x);
  for (let i = 0; i < n; i++) {
    const h = 1e-4 * Math.max(1, Math.abs(x[i]!));
    moved[i] = x[i]! + h;
    const above = gradient(moved);
    moved[i] = x[i]! - h;
    const below = gradient(moved);
    moved[i] = x[i]!;
    for (let j = 0; j < n; j++) raw[i * n + j] = (above[j]! - below[j]!) / (2 * h);
  }
  return raw.map((_, k) => (raw[k]! + raw[(k % n) * n + Math.floor(k / n)]!) / 2);
}

function lineSearch(
  f: (x: Float64Array) => number,
  x: Float64Array,
  value: number,
  direction: Float64Array,
  slope: number,
): { x: Float64Array; value: number } | null {
  // A first step longer than 5 in any variable is cut: parameters here are logarithms.
  const longest = direction.reduce((most, d) => Math.max(most, Math.abs(d)), 0);
  let size = longest > 5 ? 5 / longest : 1;
  // A step that promises less than rounding shows nothing.
  while (size > 1e-18 && -size * slope > roundingOf(value)) {
    const trial = x.map((v, k) => v + size * direction[k]!);
    const trialValue = f(trial);
    if (Number.isFinite(trialValue) && trialValue <= value + 1e-4 * size * slope)
      return { x: trial, value: trialValue };
    size /= 2;
  }
  return null;
}

function updateInverse(
  inverse: Float64Array,
  to: Float64Array,
  from: Float64Array,
  gradientTo: Float64Array,
  gradientFrom: Float64Array,
  n: number,
): void {
  const s = to.map((v, i) => v - from[i]!);
  const y = gradientTo.map((v, i) => v - gradientFrom[i]!);
  const sy = dot(s, y);
  if (!(sy > 1e-14)) return;
  const inverseY = multiply(inverse, y, n, 1);
  const scale = (1 + dot(y, inverseY) / sy) / sy;
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < n; j++) {
      inverse[i * n + j]! += scale * s[i]! * s[j]! - (inverseY[i]! * s[j]! + s[i]! * inverseY[j]!) / sy;
    }
  }
}

function identity(n: number): Float64Array {
  const matrix = new Float64Array(n * n);
  for (let i = 0; i < n; i++) matrix[i * n + i] = 1;
  return matrix;
}

function multiply(matrix: Float64Array, vector: Float64Array, n: number, sign: number): Float64Array {
  const product = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    let sum = 0;
    for (let j = 0; j < n; j++) sum += matrix[i * n + j]! * vector[j]!;
    product[i] = sign * sum;
  }
  return product;
}

function dot(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += a[i]! * b[i]!;
  return sum;
}
