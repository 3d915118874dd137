/** Charts drawn, ready for a page; a chart that several pages show is drawn once. */
import type { Chart, FigureProps } from "./chart.ts";
import type { Draw } from "./render.ts";

/** Begins to draw a chart as soon as it is called. */
export type MakeFigure = (chart: Chart, csvName?: string) => Promise<FigureProps>;

/** Figures of charts that `draw` draws. */
export function figuresBy(draw: Draw): MakeFigure {
  const begun = new Map<Chart, Promise<string>>();
  return async (chart, csvName) => {
    const { id, spec, ...rest } = chart;
    const drawn = begun.get(chart) ?? draw(spec, { prefix: id, alt: chart.alt });
    begun.set(chart, drawn);
    return { ...rest, svg: await drawn, ...(csvName === undefined ? {} : { csvName }) };
  };
}
