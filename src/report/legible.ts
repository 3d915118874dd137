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

/** Nothing but what every keyboard has: nearly all texts, and told at a glance. */
const PLAIN = /^[ -~]*$/;

/** One text with nothing in it that acts on its surroundings. */
export const legibleText = (text: string): string =>
  PLAIN.test(text) ? text : text.replace(ACTING, code).replace(LONE_SURROGATE, code);

/**
 * The same value with every text in it legible: objects, arrays and maps, keys of maps included. What is legible already
 * stays the very object it was, since a month holds a hundred thousand lives and nearly all of them are.
 */
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
  return innerObject(value as Readonly<Record<string, unknown>>);
}

function innerArray(values: readonly unknown[]): readonly unknown[] {
  let changed: unknown[] | null = null;
  for (let at = 0; at < values.length; at++) {
    const made = inner(values[at]);
    if (made === values[at]) continue;
    changed ??= [...values];
    changed[at] = made;
  }
  return changed ?? values;
}

function innerObject(object: Readonly<Record<string, unknown>>): Readonly<Record<string, unknown>> {
  let changed: Record<string, unknown> | null = null;
  for (const key of Object.keys(object)) {
    const made = inner(object[key]);
    if (made === object[key]) continue;
    changed ??= { ...object };
    changed[key] = made;
  }
  return changed ?? object;
}

function listOf(list: readonly unknown[]): readonly unknown[] {
  if (typeof list[0] === "number") return list;
  // A fleet's lives stay in their columns: only the texts there are looked at.
  return list.length > 0 && list.every(isInColumns) ? withTexts(list, legibleText) : innerArray(list);
}
