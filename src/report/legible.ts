/**
 * Text that came from exports, made inert for a page: control and direction characters are shown as what they are
 * (⟨U+202E⟩) instead of acting on the text around them. Markup is inert already, since the renderer escapes it.
 */
import { isInColumns, withTexts } from "../records/life-view.ts";

/** Controls, zero-width and direction characters, line and paragraph separators, byte-order mark, tags. */
const ACTING =
  /[\p{Cc}\u00ad\u061c\u180e\u200b-\u200f\u2028-\u202e\u2060-\u206f\ufeff\ufff9-\ufffb\u{e0000}-\u{e007f}]/gu;
const LONE_SURROGATE = /[\ud800-\udbff](?![\udc00-\udfff])|(?<![\ud800-\udbff])[\udc00-\udfff]/g;

const code = (character: string): string =>
  `\u27e8U+${character.codePointAt(0)!.toString(16).toUpperCase().padStart(4, "0")}\u27e9`;

/** One text with nothing in it that acts on its surroundings. */
export const legibleText = (text: string): string => text.replace(ACTING, code).replace(LONE_SURROGATE, code);

/** The same value with every text in it legible: objects, arrays and maps, keys of maps included. */
export function legible<T>(value: T): T {
  return inner(value) as T;
}

function inner(value: unknown): unknown {
  if (typeof value === "string") return legibleText(value);
  if (value === null || typeof value !== "object" || ArrayBuffer.isView(value)) return value;
  if (Array.isArray(value)) return listOf(value);
  if (value instanceof Map) {
    return new Map([...value].map(([key, held]) => [inner(key), inner(held)]));
  }
  return Object.fromEntries(Object.entries(value).map(([key, held]) => [key, inner(held)]));
}

function listOf(list: readonly unknown[]): readonly unknown[] {
  if (typeof list[0] === "number") return list;
  // A fleet's lives stay in their columns: only the texts there are looked at.
  return list.length > 0 && list.every(isInColumns) ? withTexts(list, legibleText) : list.map(inner);
}
