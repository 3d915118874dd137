import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { slug, slugs } from "../../src/fleet/slug.ts";

describe("slug(text)", () => {
  it.each([
    ["grip bearing wear check, sandy, plain", "grip-bearing-wear-check-sandy-plain"],
    ["Größe Ñ", "gro-e-n"],
    ["../../etc", "etc"],
    ["", "group"],
    ["砂漠", "group"],
  ])("%j is %s", (text, expected) => expect(slug(text)).toBe(expected));
  it("is a short file name whatever the text", () => {
    fc.assert(
      fc.property(fc.string({ unit: "binary" }), (text) =>
        /^[a-z0-9]([a-z0-9-]{0,78}[a-z0-9])?$/.test(slug(text)),
      ),
    );
  });
});

describe("slugs(texts)", () => {
  it("keeps plain slugs where they differ, and adds a fingerprint of the text where they don't", () => {
    const named = slugs(["sandy, plain", "sandy plain", "coast"]);
    expect(named.get("coast")).toBe("coast");
    expect(named.get("sandy, plain")).toMatch(/^sandy-plain-[0-9a-f]{8}$/);
    expect(named.get("sandy plain")).not.toBe(named.get("sandy, plain"));
    expect(slugs(["x", "sandy plain", "sandy, plain"]).get("sandy plain")).toBe(named.get("sandy plain"));
  });
  it("names no two texts alike", () => {
    const texts = fc.array(fc.string({ unit: fc.constantFrom("a", "A", "-", " ", "é", "砂") }));
    fc.assert(fc.property(texts, (list) => new Set(slugs(list).values()).size === new Set(list).size));
  });
});
