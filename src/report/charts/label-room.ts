/** Where words stand on a risk chart so that no curve runs through them. */
import type { RiskInput, RiskPoint } from "./risk-chart.ts";
import { textWidthPx } from "./text-room.ts";
import { PANEL, SMALL_PX } from "./theme.ts";

/** Ends of the axis, hours. */
export interface Ends {
  readonly first: number;
  readonly last: number;
}

/** px from the left and from the top of the plot. */
interface Box {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

const BESIDE_PX = 4;
const LINE_PX = 18;

const acrossPx = (hours: number, { first, last }: Ends): number =>
  (PANEL.width * (hours - first)) / (last - first);

const downPx = (risk: number, floor: number): number =>
  (PANEL.height * Math.log(Math.max(risk, floor))) / Math.log(floor);

/** Whether an estimate or its bound runs through a box. */
function crossed({ lines }: Pick<RiskInput, "lines">, box: Box, floor: number, ends: Ends): boolean {
  return lines.some(({ points }) =>
    [(point: RiskPoint) => point.estimate, (point: RiskPoint) => point.upper ?? 1].some((risk) => {
      const near = stretch(points, box, ends).map((point) => downPx(risk(point), floor));
      return near.length > 0 && Math.min(...near) < box.bottom && Math.max(...near) > box.top;
    }),
  );
}

/** The points between a box's sides and the ones next to them. */
function stretch(points: readonly RiskPoint[], { left, right }: Box, ends: Ends): readonly RiskPoint[] {
  const places = points.map(({ intervalH }) => acrossPx(intervalH, ends));
  return points.filter(
    (_, i) => (places[i + 1] ?? places[i]!) >= left && (places[i - 1] ?? places[i]!) <= right,
  );
}

/** The words on the acceptable level: at the left, or at the right where only that is free. */
export function acceptableAt(
  input: RiskInput,
  words: string,
  floor: number,
  ends: Ends,
): { readonly xPx: number; readonly align: "left" | "right" } {
  const widthPx = textWidthPx(words, SMALL_PX) + BESIDE_PX;
  const bottom = downPx(input.acceptable, floor);
  const taken = (left: number, right: number): boolean =>
    crossed(input, { left, right, top: bottom - LINE_PX, bottom }, floor, ends) ||
    [input.presentH, input.recommendedH].some((hours) => {
      const at = hours === null ? -1 : acrossPx(hours, ends);
      return at > left && at < right;
    });
  return taken(0, widthPx) && !taken(PANEL.width - widthPx, PANEL.width)
    ? { xPx: PANEL.width - BESIDE_PX, align: "right" }
    : { xPx: BESIDE_PX, align: "left" };
}

/** The middle of words between two sides: the first of some lines from `topPx` down that is free, else the first. */
export function freeLinePx(
  input: Pick<RiskInput, "lines">,
  sides: Pick<Box, "left" | "right">,
  topPx: number,
  floor: number,
  ends: Ends,
): number {
  const free = [0, 1, 2, 3, 4, 5, 6]
    .map((line) => topPx + line * LINE_PX)
    .find((middle) => {
      const box = { ...sides, top: middle - LINE_PX / 2, bottom: middle + LINE_PX / 2 };
      return !crossed(input, box, floor, ends);
    });
  return free ?? topPx;
}
