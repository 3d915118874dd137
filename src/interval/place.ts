import { type TextColumn, wordAt } from "../records/exports.ts";

/** Where a component is fitted, in words: aircraft and position as recorded. */
export function placeOf(aircraft: TextColumn, position: TextColumn, row: number): string {
  const words = [wordAt(aircraft, row) ?? "", wordAt(position, row) ?? ""];
  return words.filter((word) => word !== "").join(", ") || "not recorded";
}
