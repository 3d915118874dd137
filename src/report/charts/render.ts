/**
 * A chart's spec drawn as an SVG string at build time: the same bytes every time, on every machine.
 *
 * Vega needs no browser for this. Ids come from a counter of the whole process, so they are renumbered under the
 * chart's own prefix; coordinates are rounded to a tenth of a pixel; the drawing scales with its place (a viewBox,
 * no width or height), and is one image to a screen reader, which reads `alt`.
 */
import type { TopLevelSpec } from "vega-lite";
import { compactSvg } from "./compact-svg.ts";

/** What the spec's compiler or runtime said; anything at all is a defect of the spec. */
export class ChartError extends Error {
  override readonly name = "ChartError";
}

export interface Drawing {
  /** Letters, digits and hyphens; unique on its page. */
  readonly prefix: string;
  /** What the picture shows, in words. */
  readonly alt: string;
}

/** Draws a chart's spec, in this thread or in another: the same SVG whoever draws. */
export type Draw = (spec: TopLevelSpec, drawing: Drawing) => Promise<string>;

type Vega = typeof import("vega");
type VegaLite = typeof import("vega-lite");
type Level = ReturnType<Vega["logger"]>;

/** A logger that collects what vega and vega-lite would print. */
function collectingLogger(vega: Vega, said: string[]): Level {
  const note = (...parts: readonly unknown[]) => {
    said.push(parts.map(String).join(" "));
    return logger;
  };
  const logger: Level = {
    ...vega.logger(vega.Warn),
    warn: note,
    error: note,
    info: () => logger,
    debug: () => logger,
  };
  return logger;
}

/** What draws. Loaded when first needed, since it takes a fifth of a second. */
export const loadDrawing = (): Promise<readonly [Vega, VegaLite]> =>
  Promise.all([import("vega"), import("vega-lite")]);

/** Draws in this thread, one chart after the other, so that a run's memory doesn't grow with its charts. */
export function drawInTurn(): Draw {
  let last: Promise<unknown> = Promise.resolve();
  return (spec, drawing) => {
    const drawn = last.then(() => drawChart(spec, drawing));
    last = drawn;
    return drawn;
  };
}

/**
 * The SVG of a spec.
 *
 * @throws ChartError with the warning, where the spec compiles or runs with one
 */
export async function drawChart(spec: TopLevelSpec, drawing: Drawing): Promise<string> {
  const [vega, { compile }] = await loadDrawing();
  const said: string[] = [];
  const logger = collectingLogger(vega, said);
  // null: no ground of its own; vega-lite takes it, its types don't know.
  const compiled = compile({ ...withOwnRows(spec), background: null as unknown as string }, { logger });
  const view = new vega.View(vega.parse(compiled.spec), { renderer: "none", logger });
  const svg = await view.toSVG();
  view.finalize();
  if (said.length > 0) throw new ChartError(`chart ${drawing.prefix}: ${said.join("; ")}`);
  return embed(svg, drawing);
}

/**
 * The spec with a copy of every row. Vega writes an identity into the objects it is given: a row that stands twice in a
 * layer would be drawn once, and the caller's rows would not be what they were.
 */
function withOwnRows(spec: TopLevelSpec): TopLevelSpec {
  if (!("layer" in spec)) return spec;
  const layer = spec.layer.map((one) => {
    const values = one.data && "values" in one.data ? one.data.values : undefined;
    return Array.isArray(values)
      ? { ...one, data: { values: values.map((row: object) => ({ ...row })) } }
      : one;
  });
  return { ...spec, layer } as TopLevelSpec;
}

/** Compacts, renumbers and labels one SVG; text between tags is left as it is. */
function embed(svg: string, { prefix, alt }: Drawing): string {
  if (!/^[A-Za-z][\w-]*$/.test(prefix))
    throw new RangeError(`drawChart requires a plain prefix, got ${prefix}`);
  const ids = new Map<string, string>();
  const renumbered = (id: string): string => {
    if (id === "hatch") return `${prefix}-hatch`;
    if (!ids.has(id)) ids.set(id, `${prefix}-${ids.size + 1}`);
    return ids.get(id)!;
  };
  const inner = svg.replace(/^<svg[^>]*>/, "").replace(/<\/svg>$/, "");
  const body = compactSvg(inner).replace(/<[^>]+>/g, (tag) =>
    tag
      .replace(/ id="([^"]+)"/g, (_, id: string) => ` id="${renumbered(id)}"`)
      .replace(/url\(#([^)]+)\)/g, (_, id: string) => `url(#${renumbered(id)})`),
  );
  const viewBox = / viewBox="([^"]+)"/.exec(svg)?.[1];
  if (viewBox === undefined) throw new ChartError(`chart ${prefix}: no viewBox in what vega drew`);
  const head = `<svg xmlns="http://www.w3.org/2000/svg" viewBox="${viewBox}" role="img" aria-label="${escaped(alt)}">`;
  return `${head}${body.includes(`#${prefix}-hatch`) ? hatch(prefix) : ""}${body}</svg>`;
}

/** Slanted hairlines in quiet ink. */
const hatch = (prefix: string): string =>
  `<defs><pattern id="${prefix}-hatch" width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">` +
  `<path d="M0,0V6" stroke="var(--quiet, #5f5c55)" stroke-width="1" opacity="0.55"/></pattern></defs>`;

const escaped = (text: string): string =>
  text.replace(/&/g, "&amp;").replace(/</g, "&lt;").replace(/>/g, "&gt;").replace(/"/g, "&quot;");
