/** Room for words, reckoned without a browser: which ticks can be named, and what a long name is cut to. */

/** Mean width of a character of the pages' serif type, as a share of its size; generous, so that words don't touch. */
const CHARACTER_WIDTH = 0.52;

/** About how wide a text is set; never much too small. */
export const textWidthPx = (text: string, fontPx: number): number =>
  [...text].length * CHARACTER_WIDTH * fontPx;

/** Text that fits: cut with an ellipsis where it must be. */
export function fitted(text: string, roomPx: number, fontPx: number): string {
  const most = Math.max(1, Math.floor(roomPx / (CHARACTER_WIDTH * fontPx)));
  const characters = [...text];
  return characters.length <= most ? text : `${characters.slice(0, most - 1).join("")}…`;
}

/** The ticks that can carry their number when they stand `pxPerUnit` apart: the first, and every one with room after. */
export function namedTicks(values: readonly number[], pxPerUnit: number, gapPx: number): number[] {
  let last = Number.NEGATIVE_INFINITY;
  return values.filter((value) => {
    if ((value - last) * pxPerUnit < gapPx) return false;
    last = value;
    return true;
  });
}

/** A label expression that names some ticks as whole numbers and leaves the others bare. */
export const namingOnly = (values: readonly number[]): string =>
  `indexof([${values.join(",")}], datum.value) >= 0 ? format(datum.value, 'd') : ''`;

/** Labels moved apart so that neighbours are at least `gapPx` from each other, none below `lowestPx`. */
export function apart<Label extends { readonly y: number }>(
  labels: readonly Label[],
  gapPx: number,
  lowestPx: number,
): Label[] {
  const sorted = [...labels].sort((a, b) => a.y - b.y);
  let previous = Number.NEGATIVE_INFINITY;
  const down = sorted.map((one) => {
    previous = Math.max(one.y, previous + gapPx);
    return { ...one, y: previous };
  });
  let next = lowestPx + gapPx;
  return down
    .reverse()
    .map((one) => {
      next = Math.min(one.y, next - gapPx);
      return { ...one, y: next };
    })
    .reverse();
}
