/** Where the words at the acceptable level stand: at the left, or at the right where a curve runs through them there. */
import type { RiskInput, RiskPoint } from "./risk-chart.ts";
import { textWidthPx } from "./text-room.ts";
import { PANEL, SMALL_PX } from "./theme.ts";

const BESIDE_PX = 4;
/** The words stand on the rule, this high. */
const HIGH_PX = 18;

/** @param ends  hours at both ends of the axis */
export function acceptableAt(
  { lines, acceptable, presentH, recommendedH }: RiskInput,
  words: string,
  floor: number,
  ends: { readonly first: number; readonly last: number },
): { readonly xPx: number; readonly align: "left" | "right" } {
  const widthPx = textWidthPx(words, SMALL_PX) + BESIDE_PX;
  const acrossPx = (hours: number) => (PANEL.width * (hours - ends.first)) / (ends.last - ends.first);
  const heightPx = (risk: number) =>
    (PANEL.height * Math.log(Math.max(risk, floor) / floor)) / -Math.log(floor);
  const from = heightPx(acceptable);
  const covered = (left: number, right: number): boolean =>
    lines.some(({ points }) =>
      [(point: RiskPoint) => point.estimate, (point: RiskPoint) => point.upper ?? 1].some((risk) => {
        const near = stretch(points, acrossPx, left, right).map((point) => heightPx(risk(point)));
        return near.length > 0 && Math.min(...near) < from + HIGH_PX && Math.max(...near) > from;
      }),
    ) ||
    [presentH, recommendedH].some(
      (hours) => hours !== null && acrossPx(hours) > left && acrossPx(hours) < right,
    );
  const right = covered(0, widthPx) && !covered(PANEL.width - widthPx, PANEL.width);
  return right ? { xPx: PANEL.width - BESIDE_PX, align: "right" } : { xPx: BESIDE_PX, align: "left" };
}

/** The points between two places and the ones next to them on either side. */
function stretch(
  points: readonly RiskPoint[],
  acrossPx: (hours: number) => number,
  left: number,
  right: number,
): readonly RiskPoint[] {
  const places = points.map(({ intervalH }) => acrossPx(intervalH));
  return points.filter(
    (_, i) => (places[i + 1] ?? places[i]!) >= left && (places[i - 1] ?? places[i]!) <= right,
  );
}
