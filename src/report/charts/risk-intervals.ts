/** On a risk chart: the present and the recommended interval, and the ground where nothing was observed. */
import { hours } from "../number-format.ts";
import { type onScale, type PlotLayer, plot } from "./layers.ts";
import type { RiskInput } from "./risk-chart.ts";
import { ACCENT, HATCH, INK, label, PANEL, QUIET } from "./theme.ts";

type Scale = ReturnType<typeof onScale>;

export function intervalLayers(input: RiskInput, first: number, last: number, x: Scale): PlotLayer[] {
  const same = input.recommendedH === null;
  return [
    ...unobserved(input.observedToH, first, last, x),
    ...upright(
      { intervalH: input.presentH, label: `present ${hours(input.presentH)}` },
      { colour: INK, dash: [1, 0], top: 8 },
      last,
      first,
      x,
    ),
    ...(same
      ? []
      : upright(
          { intervalH: input.recommendedH!, label: `recommended ${hours(input.recommendedH!)}` },
          { colour: ACCENT, dash: [3, 2], top: 24 },
          last,
          first,
          x,
        )),
  ];
}

function unobserved(observedToH: number | null, first: number, last: number, x: Scale): PlotLayer[] {
  if (observedToH !== null && observedToH >= last) return [];
  const row = { from: Math.max(first, observedToH ?? first), to: last, label: "not observed" };
  return [
    plot(
      [row],
      { type: "rect", fill: HATCH },
      {
        x: x("from"),
        x2: { field: "to" },
        y: { value: 0 },
        y2: { value: PANEL.height },
      },
    ),
    ...label(
      [row],
      { align: "right", fill: QUIET, dx: -3 },
      {
        x: x("to"),
        y: { value: PANEL.height - 9 },
        text: { field: "label" },
      },
    ),
  ];
}

/** One upright rule, named on the side that has room. */
function upright(
  row: { readonly intervalH: number; readonly label: string },
  look: { readonly colour: string; readonly dash: number[]; readonly top: number },
  last: number,
  first: number,
  x: Scale,
): PlotLayer[] {
  const right = row.intervalH <= (first + last) / 2;
  return [
    plot(
      [row],
      { type: "rule", stroke: look.colour, strokeWidth: 1.25, strokeDash: look.dash },
      {
        x: x("intervalH"),
      },
    ),
    ...label(
      [row],
      { align: right ? "left" : "right", dx: right ? 4 : -4, fill: look.colour },
      {
        x: x("intervalH"),
        y: { value: look.top },
        text: { field: "label" },
      },
    ),
  ];
}
