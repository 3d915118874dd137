/**
 * The interval ruler, the mark that recurs: a ruler in flight hours with the grid of intervals as ticks. A solid bar to
 * the longest interval that is demonstrated, a thin line on to where the best estimate still holds, nothing beyond. A
 * filled notch from above for the present interval, an open one from below for the recommended, a bracket under the
 * hours that were observed. Shapes carry all of it; the one colour repeats what the open notch says.
 */
import type { VNode } from "preact";
import type { Recommendation } from "../../interval/month-result.ts";
import { hours } from "../number-format.ts";
import { type RulerReading, rulerEnd, rulerInWords, rulerReading } from "./ruler-scale.ts";
import { RulerWords } from "./ruler-words.tsx";
import { textWidthPx } from "./text-room.ts";
import { ACCENT, INK, QUIET } from "./theme.ts";

/** Measures in px of the drawing; all heights count from its top. */
export interface RulerSize {
  readonly width: number;
  readonly height: number;
  readonly left: number;
  readonly right: number;
  readonly barTop: number;
  readonly barHeight: number;
  readonly rule: number;
  readonly tick: number;
  readonly notch: number;
  readonly bracket: number;
  readonly textPx: number;
}

const ROW: RulerSize = {
  width: 250,
  height: 50,
  left: 5,
  right: 12,
  barTop: 15,
  barHeight: 6,
  rule: 22.5,
  tick: 4,
  notch: 8,
  bracket: 46,
  textPx: 11,
};

const PAGE: RulerSize = {
  width: 500,
  height: 106,
  left: 8,
  right: 20,
  barTop: 20,
  barHeight: 10,
  rule: 32,
  tick: 5,
  notch: 12,
  bracket: 84,
  textPx: 12,
};

export interface RulerProps {
  readonly recommendation: Recommendation;
  /** "row" fits a table row; "page" stands alone and names its parts. */
  readonly size?: "row" | "page";
  /** Hours at the right end, the same for all rulers of a table; left out: the end of this one's grid. */
  readonly endH?: number;
}

export function IntervalRuler({ recommendation, size = "row", endH }: RulerProps): VNode {
  const reading = rulerReading(recommendation);
  const measures = size === "row" ? ROW : PAGE;
  const end = endH ?? rulerEnd([recommendation]);
  const at = (h: number) =>
    round(measures.left + (Math.min(h, end) / end) * (measures.width - measures.left - measures.right));
  const words = rulerInWords(reading);
  return (
    <svg
      xmlns="http://www.w3.org/2000/svg"
      viewBox={`0 0 ${measures.width} ${measures.height}`}
      class={`ruler ruler-${size}`}
      role="img"
      aria-label={words}
    >
      <title>{words}</title>
      <Rule reading={reading} measures={measures} at={at} end={end} />
      <Reach reading={reading} measures={measures} at={at} />
      <Bracket reading={reading} measures={measures} at={at} end={end} />
      <Notches reading={reading} measures={measures} at={at} named={size === "page"} />
      {size === "page" ? <RulerWords reading={reading} measures={measures} at={at} /> : null}
    </svg>
  );
}

const round = (px: number): number => Math.round(px * 100) / 100;

export interface RulerPiece {
  readonly reading: RulerReading;
  readonly measures: RulerSize;
  /** Hours to px; past the end: the end. */
  readonly at: (hours: number) => number;
}

/** The ruler's edge with a tick at every interval of the grid. */
function Rule({ reading, measures, at, end }: RulerPiece & { readonly end: number }): VNode {
  const { rule, tick } = measures;
  const ticks = [0, ...reading.gridH].map((h) => `M${at(h)},${rule}v${tick}`).join("");
  return (
    <>
      <path d={`M${at(0)},${rule}H${at(end)}`} stroke={QUIET} stroke-width="0.75" />
      <path d={ticks} stroke={QUIET} stroke-width="0.75" />
    </>
  );
}

/** Solid as far as it is demonstrated, thin as far as the best estimate holds. */
function Reach({ reading, measures, at }: RulerPiece): VNode {
  const { barTop, barHeight } = measures;
  const middle = barTop + barHeight / 2;
  const { demonstratedH, estimateHoldsH } = reading;
  const from = demonstratedH ?? 0;
  return (
    <>
      {demonstratedH === null ? null : (
        <rect x={at(0)} y={barTop} width={round(at(demonstratedH) - at(0))} height={barHeight} fill={INK} />
      )}
      {estimateHoldsH === null || estimateHoldsH <= from ? null : (
        <path d={`M${at(from)},${middle}H${at(estimateHoldsH)}`} stroke={INK} stroke-width="1.5" />
      )}
    </>
  );
}

/** Under the hours observed; open to the right where they go on past the ruler. */
function Bracket({ reading, measures, at, end }: RulerPiece & { readonly end: number }): VNode | null {
  if (reading.observedToH === null) return null;
  const { bracket, tick } = measures;
  const close = reading.observedToH > end ? `M${at(end) + 1},${bracket - 3}l4,3l-4,3` : `v${-tick}`;
  const line = `M${at(0)},${bracket - tick}v${tick}H${reading.observedToH > end ? at(end) + 5 : at(reading.observedToH)}`;
  return <path d={`${line}${close}`} fill="none" stroke={QUIET} stroke-width="1" />;
}

/** Filled from above: present. Open from below: recommended. */
function Notches({ reading, measures, at, named }: RulerPiece & { readonly named: boolean }): VNode {
  const { barTop, rule, tick, notch, textPx } = measures;
  const half = notch * 0.6;
  const x = at(reading.presentH);
  const above = barTop - 2;
  const below = rule + tick + 2;
  const recommended = reading.recommendedH === null ? null : at(reading.recommendedH);
  return (
    <>
      <path d={`M${x},${above}l${-half},${-notch}h${2 * half}Z`} fill={INK} />
      <Beside
        x={x}
        half={half}
        y={above - notch / 2}
        text={`${named ? "present " : ""}${hours(reading.presentH)}`}
        {...{ measures, textPx }}
      />
      {recommended === null ? null : (
        <>
          <path
            d={`M${recommended},${below}l${-half},${notch}h${2 * half}Z`}
            fill="none"
            stroke={ACCENT}
            stroke-width="1.4"
            stroke-linejoin="round"
          />
          <Beside
            x={recommended}
            half={half}
            y={below + notch / 2 + 1}
            text={`${named ? "recommended " : ""}${hours(reading.recommendedH!)}`}
            colour={ACCENT}
            {...{ measures, textPx }}
          />
        </>
      )}
    </>
  );
}

interface BesideProps {
  readonly x: number;
  readonly half: number;
  readonly y: number;
  readonly text: string;
  readonly textPx: number;
  readonly measures: RulerSize;
  readonly colour?: string;
}

/** Hours of a notch, on its right where there is room. */
function Beside({ x, half, y, text, textPx, measures, colour = INK }: BesideProps): VNode {
  const right = x + half + 4 + textWidthPx(text, textPx) < measures.width;
  return (
    <text
      x={round(right ? x + half + 3 : x - half - 3)}
      y={round(y + 0.35 * textPx)}
      font-size={textPx}
      fill={colour}
      text-anchor={right ? "start" : "end"}
    >
      {text}
    </text>
  );
}
