/** The finish of the nonparametric curve: Newton on the places that carry mass, within steps >= 0, to the true maximum. */
import { newtonSystem, type Stretch, stretchGradient, stretchLogLikelihood } from "./stretch.ts";

/** Newton on the places that carry mass, adding the most promising ones until none would help. */
export function climbToTop(stretch: Stretch, steps: Float64Array, total: number): boolean {
  let joining = new Set<number>();
  for (let round = 0; round < 300; round++) {
    if (!newtonOnPositive(stretch, steps, joining)) return false;
    joining = promising(steps, stretchGradient(stretch, steps), 1e-9 * total);
    if (joining.size === 0) return true;
  }
  return false;
}

/** Of each run of empty places where mass would help, the one where it would help most. */
function promising(steps: Float64Array, slope: Float64Array, least: number): Set<number> {
  const found = new Set<number>();
  let best = -1;
  for (let j = 0; j <= steps.length; j++) {
    const helps = j < steps.length && steps[j] === 0 && slope[j]! > least;
    if (helps && (best < 0 || slope[j]! > slope[best]!)) best = j;
    if (!helps && best >= 0) {
      found.add(best);
      best = -1;
    }
  }
  return found;
}

/** Damped Newton, projected on x >= 0: places that fall to 0 leave. Those `joining` take part although at 0. */
function newtonOnPositive(stretch: Stretch, steps: Float64Array, joining: ReadonlySet<number>): boolean {
  let guests = joining;
  let here = stretchLogLikelihood(stretch, steps, steps.length);
  for (let iteration = 0; iteration < 300; iteration++) {
    const slope = stretchGradient(stretch, steps);
    const found = activeWay(stretch, steps, slope, guests);
    if (found === null) return false;
    const { active, way } = found;
    const gain = active.reduce((sum, j, k) => sum + way[k]! * slope[j]!, 0);
    if (gain <= 1e-22 * (1 + Math.abs(here))) return true;
    const moved = tryStep(stretch, steps, { active, way, slope, here });
    // No higher point to be found in rounding: at the top.
    if (moved === null) return gain < 1e-9 * (1 + Math.abs(here));
    const done = gain < 1e-15 * (1 + Math.abs(here)) && !moved.projected;
    here = moved.value;
    guests = NONE;
    if (done) return true;
  }
  return false;
}

const NONE: ReadonlySet<number> = new Set();

/** Places that take part and Newton's way for them; a guest at 0 that would go below it stays out. */
function activeWay(
  stretch: Stretch,
  steps: Float64Array,
  slope: Float64Array,
  guests: ReadonlySet<number>,
): { active: number[]; way: Float64Array } | null {
  const staying = new Set(guests);
  for (;;) {
    const active: number[] = [];
    for (let j = 0; j < steps.length; j++) if (steps[j]! > 0 || staying.has(j)) active.push(j);
    const way = newtonWay(stretch, steps, active, slope);
    if (way === null) return null;
    const out = active.filter((j, k) => steps[j] === 0 && way[k]! < 0);
    if (out.length === 0) return { active, way };
    for (const j of out) staying.delete(j);
  }
}

/** First projected steps, which clear many places at once; where they don't climb, a step to the nearest wall. */
function tryStep(
  stretch: Stretch,
  steps: Float64Array,
  from: { active: readonly number[]; way: Float64Array; slope: Float64Array; here: number },
): { value: number; projected: boolean } | null {
  const before = Float64Array.from(steps);
  const { active, way, slope, here } = from;
  let wall = 1;
  for (const [k, j] of active.entries()) if (way[k]! < 0) wall = Math.min(wall, before[j]! / -way[k]!);
  const sizes: number[] = [];
  for (let size = 1; size > wall; size /= 2) sizes.push(size);
  for (let size = wall; size > 1e-14 * wall; size /= 2) sizes.push(size);
  for (const size of sizes) {
    let projected = false;
    let promised = 0;
    for (const [k, j] of active.entries()) {
      const to = before[j]! + size * way[k]!;
      const out = to <= 1e-15 * before[j]!;
      if (out && way[k]! < 0) projected = true;
      steps[j] = out ? 0 : to;
      promised += slope[j]! * (steps[j]! - before[j]!);
    }
    if (promised < 0) continue;
    const now = stretchLogLikelihood(stretch, steps, steps.length);
    if (now >= here + 1e-4 * promised - 1e-14 * (1 + Math.abs(here))) return { value: now, projected };
  }
  steps.set(before);
  return null;
}

function newtonWay(
  stretch: Stretch,
  steps: Float64Array,
  active: readonly number[],
  slope: Float64Array,
): Float64Array | null {
  return newtonSystem(stretch, steps, active).way(Float64Array.from(active, (j) => slope[j]!));
}
