/** On a risk chart: the present and the recommended interval, ground where nothing was observed, and the lines' key. */
import { hours } from "../number-format.ts";
import { type Ends, freeLinePx } from "./label-room.ts";
import { type onScale, type PlotLayer, plot } from "./layers.ts";
import type { RiskInput, RiskLine } from "./risk-chart.ts";
import { textWidthPx } from "./text-room.ts";
import { ACCENT, HATCH, INK, label, PANEL, PAPER, QUIET, SMALL_PX } from "./theme.ts";

type Scale = ReturnType<typeof onScale>;

/** Hatching from the longest hours followed to the end of the axis. */
export function unobservedLayers(observedToH: number | null, { first, last }: Ends, x: Scale): PlotLayer[] {
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
export function intervalLayers(input: RiskInput, range: Ends, floor: number, x: Scale): PlotLayer[] {
  const { presentH, recommendedH } = input;
  const present = { intervalH: presentH, label: `present ${hours(presentH)}` };
  const upright = (row: Named, look: Look, side: "left" | "right") =>
    [rule(row, look, x), words(input, row, look, nameSide(row, side, range), range, floor, x)].flat();
  const solid = { colour: INK, dash: [1, 0] };
  if (recommendedH === null) return upright(present, solid, "right");
  const recommended = { intervalH: recommendedH, label: `recommended ${hours(recommendedH)}` };
  const longer = recommendedH > presentH;
  return [
    ...upright(present, solid, longer ? "left" : "right"),
    ...upright(recommended, { colour: ACCENT, dash: [3, 2] }, longer ? "right" : "left"),
  ];
}

interface Named {
  readonly intervalH: number;
  readonly label: string;
}

interface Look {
  readonly colour: string;
  readonly dash: number[];
}

const TOP_PX = 8;
/** Lower where the side asked for has no room: the other rule's name may stand there. */
const LOWER_PX = 16;

interface NameSide {
  readonly right: boolean;
  readonly topPx: number;
  /** px of the name's two ends. */
  readonly sides: { readonly left: number; readonly right: number };
}

/** On the side asked for where that has room, else on the other and lower. */
function nameSide(
  { intervalH, label: name }: Named,
  side: "left" | "right",
  { first, last }: Ends,
): NameSide {
  const at = (PANEL.width * (intervalH - first)) / (last - first);
  const width = textWidthPx(name, SMALL_PX) + 6;
  const fits = side === "right" ? at + width <= PANEL.width : at - width >= 0;
  const right = (side === "right") === fits;
  const sides = right ? { left: at, right: at + width } : { left: at - width, right: at };
  return { right, topPx: TOP_PX + (fits ? 0 : LOWER_PX), sides };
}

const rule = (row: Named, look: Look, x: Scale): PlotLayer =>
  plot(
    [row],
    { type: "rule", stroke: look.colour, strokeWidth: 1.25, strokeDash: look.dash },
    { x: x("intervalH") },
  );

function words(
  input: RiskInput,
  row: Named,
  { colour }: Look,
  { right, topPx, sides }: NameSide,
  range: Ends,
  floor: number,
  x: Scale,
): PlotLayer[] {
  const y = { value: freeLinePx(input, sides, topPx, floor, range) };
  return label(
    [row],
    { align: right ? "left" : "right", dx: right ? 4 : -4, fill: colour },
    { x: x("intervalH"), y, text: { field: "label" } },
  );
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
  { last }: Ends,
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
