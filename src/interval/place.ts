import type { TextColumn } from "../records/exports.ts";

/** Where a component is fitted, in words: aircraft and position as recorded. */
export function placeOf(aircraft: TextColumn, position: TextColumn, row: number): string {
  const words = [aircraft, position].map((column) => {
    const code = column.codes[row]!;
    return code < 0 ? "" : column.words[code]!;
  });
  return words.filter((word) => word !== "").join(", ") || "not recorded";
}
