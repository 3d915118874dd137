/** Words on the page-sized interval ruler: hours of the grid, and what each part of the drawing means. */
import type { VNode } from "preact";
import { hours, whole } from "../number-format.ts";
import type { RulerPiece } from "./interval-ruler.tsx";
import { INK, QUIET } from "./theme.ts";

const SMALLEST_GAP_PX = 34;

export function RulerWords({ reading, measures, at }: RulerPiece): VNode {
  const { rule, tick, textPx, bracket, barTop, barHeight, width } = measures;
  const small = textPx - 1;
  const { demonstratedH, estimateHoldsH, observedToH } = reading;
  const reach = Math.max(at(demonstratedH ?? 0), at(estimateHoldsH ?? 0));
  const reachWords =
    demonstratedH === null
      ? "none demonstrated"
      : estimateHoldsH !== null && estimateHoldsH > demonstratedH
        ? `demonstrated to ${hours(demonstratedH)}, estimate holds to ${hours(estimateHoldsH)}`
        : `demonstrated to ${hours(demonstratedH)}`;
  // Beside the bar's end where there is room, else on the line of the notches' hours, at the left.
  const room = width - reach > reachWords.length * small * 0.48 + 12;
  return (
    <>
      {labelled(reading.gridH, at).map((h) => (
        <text key={h} x={at(h)} y={rule + tick + 42} font-size={small} fill={QUIET} text-anchor="middle">
          {whole(h)}
        </text>
      ))}
      <text
        x={room ? reach + 8 : at(0)}
        y={room ? barTop + barHeight / 2 + 0.35 * small : barTop - 8}
        font-size={small}
        fill={INK}
      >
        {reachWords}
      </text>
      <text x={at(0)} y={bracket + small + 5} font-size={small} fill={QUIET}>
        {observedToH === null
          ? "too few components followed at any age"
          : `components followed to ${hours(observedToH)}`}
      </text>
    </>
  );
}

/** Grid hours far enough apart to be written, the first among them. */
function labelled(gridH: readonly number[], at: (hours: number) => number): number[] {
  let last = Number.NEGATIVE_INFINITY;
  return gridH.filter((h) => {
    if (at(h) - last < SMALLEST_GAP_PX) return false;
    last = at(h);
    return true;
  });
}
