import { describe, expect, it } from "vitest";
import { lifeColumns } from "../../src/records/life-columns.ts";
import { livesFrom } from "../../src/records/life-view.ts";
import { legible, legibleText } from "../../src/report/legible.ts";
import { makeLife } from "../records/make-life.ts";

/** Text as an export may hold it, and what a page may show of it. The renderer's own escaping comes after. */
const GOLDEN: readonly (readonly [recorded: string, shown: string])[] = [
  ["GB-100-1", "GB-100-1"],
  ["Ünïcode 軸受", "Ünïcode 軸受"],
  ["abc\u202Edef", "abc⟨U+202E⟩def"],
  ["\u2066a\u2069", "⟨U+2066⟩a⟨U+2069⟩"],
  ["a\u200Bb\uFEFFc", "a⟨U+200B⟩b⟨U+FEFF⟩c"],
  ["tab\tbell\u0007nul\u0000", "tab⟨U+0009⟩bell⟨U+0007⟩nul⟨U+0000⟩"],
  ["line\r\nbreak\u2028", "line⟨U+000D⟩⟨U+000A⟩break⟨U+2028⟩"],
  ["\u{E0041}", "⟨U+E0041⟩"],
  ["half \uD800", "half ⟨U+D800⟩"],
  ["whole 🚁", "whole 🚁"],
];

describe("legibleText(text)", () => {
  it.each(GOLDEN)("shows %j as %j", (recorded, shown) => {
    expect(legibleText(recorded)).toBe(shown);
  });
});

describe("legible(value)", () => {
  it("makes the texts of lives in columns legible, and leaves the rest of them as it is", () => {
    const life = makeLife({ aircraft: "A\u202E1", position: "\u200FB", readingHours: [300, 600] });
    const given = { groups: [{ lives: livesFrom(lifeColumns([life, { ...life, component: 1 }])) }] };
    const [first, second] = legible(given).groups[0]!.lives;
    expect(first).toMatchObject({ aircraft: "A⟨U+202E⟩1", position: "⟨U+200F⟩B", readingHours: [300, 600] });
    expect(second!.component).toBe(1);
    expect(given.groups[0]!.lives[0]!.aircraft).toBe("A\u202E1");
  });

  it("reaches into objects, arrays and maps, and leaves numbers alone", () => {
    const words = new Map([["a\u202E", "b\u202E"]]);
    expect(
      legible({ words, list: ["\u200F", 1, null, true], numbers: [1, Number.POSITIVE_INFINITY] }),
    ).toEqual({
      words: new Map([["a⟨U+202E⟩", "b⟨U+202E⟩"]]),
      list: ["⟨U+200F⟩", 1, null, true],
      numbers: [1, Number.POSITIVE_INFINITY],
    });
  });
});
