/** On a risk chart: the present and the recommended interval, ground where nothing was observed, and the lines' key. */
import { hours } from "../number-format.ts";
import { type onScale, type PlotLayer, plot } from "./layers.ts";
import type { RiskInput, RiskLine } from "./risk-chart.ts";
import { textWidthPx } from "./text-room.ts";
import { ACCENT, HATCH, INK, label, PANEL, PAPER, QUIET, SMALL_PX } from "./theme.ts";

type Scale = ReturnType<typeof onScale>;

/** Ends of the axis, hours. */
interface Range {
  readonly first: number;
  readonly last: number;
}

/** Hatching from the longest hours followed to the end of the axis. */
export function unobservedLayers(observedToH: number | null, { first, last }: Range, x: Scale): PlotLayer[] {
  if (observedToH !== null && observedToH >= last) return [];
  const row = { from: Math.max(first, observedToH ?? first), to: last };
  return [
    plot(
      [row],
      { type: "rect", fill: HATCH },
      { x: x("from"), x2: { field: "to" }, y: { value: 0 }, y2: { value: PANEL.height } },
    ),
  ];
}

/** The present interval and, where another is recommended, that one too: the shorter named to the left. */
export function intervalLayers({ presentH, recommendedH }: RiskInput, range: Range, x: Scale): PlotLayer[] {
  const present = { intervalH: presentH, label: `present ${hours(presentH)}` };
  const solid = { colour: INK, dash: [1, 0], topPx: 8 };
  if (recommendedH === null) return upright(present, solid, "right", range, x);
  const recommended = { intervalH: recommendedH, label: `recommended ${hours(recommendedH)}` };
  const longer = recommendedH > presentH;
  return [
    ...upright(present, solid, longer ? "left" : "right", range, x),
    ...upright(recommended, { colour: ACCENT, dash: [3, 2], topPx: 8 }, longer ? "right" : "left", range, x),
  ];
}

/** One upright rule, named on the side asked for where that has room, else on the other and lower. */
function upright(
  row: { readonly intervalH: number; readonly label: string },
  look: { readonly colour: string; readonly dash: number[]; readonly topPx: number },
  side: "left" | "right",
  { first, last }: Range,
  x: Scale,
): PlotLayer[] {
  const at = (PANEL.width * (row.intervalH - first)) / (last - first);
  const width = textWidthPx(row.label, SMALL_PX) + 6;
  const fits = side === "right" ? at + width <= PANEL.width : at - width >= 0;
  const right = (side === "right") === fits;
  return [
    plot(
      [row],
      { type: "rule", stroke: look.colour, strokeWidth: 1.25, strokeDash: look.dash },
      { x: x("intervalH") },
    ),
    ...label(
      [row],
      { align: right ? "left" : "right", dx: right ? 4 : -4, fill: look.colour },
      { x: x("intervalH"), y: { value: look.topPx + (fits ? 0 : 16) }, text: { field: "label" } },
    ),
  ];
}

/** A line's name, with a remark where none of it shows. */
const keyWords = ({ name, points }: RiskLine, floor: number): string =>
  points.every(({ estimate, upper }) => estimate < floor && (upper ?? 1) < floor)
    ? `${name}: below the axis`
    : name;

const ROW_PX = 15;
const SAMPLE_PX = 24;

/** Paper under the key, so that no rule strikes its words through. */
const paper = (at: { left: number; right: number; top: number; bottom: number }): PlotLayer =>
  plot(
    [{}],
    { type: "rect", fill: PAPER, opacity: 0.92 },
    { x: { value: at.left }, x2: { value: at.right }, y: { value: at.top }, y2: { value: at.bottom } },
  );

/** Lines named beside a sample of each at the lower right, which the rising lines leave free. */
export function keyLayers(
  { lines, colour, observedToH }: RiskInput,
  { last }: Range,
  floor: number,
): PlotLayer[] {
  const hatched = observedToH === null || observedToH < last;
  const words = [
    ...lines.map((line) => keyWords(line, floor)),
    ...(hatched ? ["hatched: not observed"] : []),
  ];
  const left = PANEL.width - 6 - words.reduce((most, text) => Math.max(most, textWidthPx(text, SMALL_PX)), 0);
  const heightPx = (row: number) => PANEL.height - 10 - (words.length - 1 - row) * ROW_PX;
  const samples = lines.map((line, row) =>
    plot(
      [{}],
      { type: "rule", stroke: colour, strokeWidth: 2.25, strokeDash: line.dash },
      {
        x: { value: left - SAMPLE_PX - 6 },
        x2: { value: left - 6 },
        y: { value: heightPx(row) },
      },
    ),
  );
  const names = words.flatMap((text, row) =>
    label(
      [{ text }],
      { align: "left", fill: row < lines.length ? colour : QUIET },
      { x: { value: left }, y: { value: heightPx(row) }, text: { field: "text" } },
    ),
  );
  const ground = {
    left: left - SAMPLE_PX - 10,
    right: PANEL.width,
    top: heightPx(0) - ROW_PX / 2 - 2,
    bottom: heightPx(words.length - 1) + ROW_PX / 2 + 1,
  };
  return [paper(ground), ...samples, ...names];
}
