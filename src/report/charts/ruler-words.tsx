/** Words on the page-sized interval ruler: the hours of its grid, and what bar, line and bracket say. */
import type { VNode } from "preact";
import { hours, whole } from "../number-format.ts";
import type { RulerPiece } from "./interval-ruler.tsx";
import type { RulerReading } from "./ruler-scale.ts";
import { namedTicks } from "./text-room.ts";
import { INK, QUIET } from "./theme.ts";

const LEAST_GAP_PX = 30;

export function RulerWords({ reading, measures, at }: RulerPiece): VNode {
  const { rule, tick, notch, textPx, bracket } = measures;
  const small = textPx - 0.5;
  const pxPerHour = (at(reading.presentH) - at(0)) / reading.presentH;
  return (
    <>
      {namedTicks(reading.gridH, pxPerHour, LEAST_GAP_PX).map((h) => (
        <text
          key={h}
          x={at(h)}
          y={rule + tick + notch + 16}
          font-size={small}
          fill={QUIET}
          text-anchor="middle"
        >
          {whole(h)}
        </text>
      ))}
      <text x={at(0)} y={bracket + small + 5} font-size={small} fill={INK}>
        {said(reading)}
      </text>
    </>
  );
}

/** One line under the ruler, in the order of its parts from the top. */
function said({ demonstratedH, estimateHoldsH, observedToH }: RulerReading): string {
  const bar =
    demonstratedH === null ? "No bar: none demonstrated." : `Bar: demonstrated to ${hours(demonstratedH)}.`;
  const line =
    estimateHoldsH === null || (demonstratedH !== null && estimateHoldsH <= demonstratedH)
      ? ""
      : ` Line: estimate holds to ${hours(estimateHoldsH)}.`;
  const bracket =
    observedToH === null
      ? " No bracket: too few followed at any age."
      : ` Bracket: followed to ${hours(observedToH)}.`;
  return `${bar}${line}${bracket}`;
}
