import { describe, expect, it } from "vitest";
import { parse } from "yaml";
import { fleetJsonSchema, type JsonSchema, keysAt } from "../../src/fleet/schema-json.ts";
import { EXAMPLE } from "./example.ts";

/** A small, independent reading of the JSON schema: what an editor would mark. */
function marks(schema: JsonSchema, value: unknown, at = ""): string[] {
  if (schema.anyOf) {
    const branches = schema.anyOf.map((branch) => marks(branch, value, at));
    return branches.some((found) => found.length === 0) ? [] : branches[0]!;
  }
  const type = Array.isArray(value) ? "array" : typeof value;
  if (schema.type !== undefined && ![schema.type].flat().includes(type)) return [`${at}: ${type}`];
  if (Array.isArray(schema.enum) && !schema.enum.includes(value)) return [`${at}: not one of the words`];
  if (Array.isArray(value)) return value.flatMap((item, i) => marks(schema.items ?? {}, item, `${at}[${i}]`));
  if (typeof value !== "object" || value === null) return [];
  const missing = (schema.required ?? [])
    .filter((key) => !(key in value))
    .map((key) => `${at}.${key}: missing`);
  const inner = Object.entries(value).flatMap(([key, item]) => {
    const own = schema.properties?.[key];
    if (own) return marks(own, item, `${at}.${key}`);
    if (typeof schema.additionalProperties === "object")
      return marks(schema.additionalProperties, item, `${at}.${key}`);
    return schema.additionalProperties === false ? [`${at}.${key}: unknown`] : [];
  });
  return [...missing, ...inner];
}

describe("fleetJsonSchema()", () => {
  const schema = fleetJsonSchema();
  it("takes the example as an editor reads it (plain YAML with numbers), and marks what is wrong with it", () => {
    const value = parse(EXAMPLE) as Record<string, unknown>;
    expect(marks(schema, value)).toEqual([]);
    expect(marks(schema, { ...value, review: [] })).toEqual([".review: unknown"]);
    expect(marks(schema, { ...value, tasks: [{}] })).toContain(".tasks[0].basis: missing");
    expect(marks(schema, { ...value, reviews: "2026-04" })).toEqual([".reviews: string"]);
  });
  it("describes every key", () => {
    const without: string[] = [];
    const walk = (part: JsonSchema, at: string) => {
      for (const [key, inner] of Object.entries(part.properties ?? {})) walk(inner, `${at}.${key}`);
      for (const branch of part.anyOf ?? []) walk(branch, at);
      if (part.items) walk(part.items, `${at}[]`);
      if (!part.properties && !part.anyOf && !part.items && !part.description && !part.enum) without.push(at);
    };
    walk(schema, "");
    expect(without).toEqual([]);
  });
  it("is plain JSON with a draft's address", () => {
    expect(JSON.parse(JSON.stringify(schema))).toEqual(schema);
    expect(schema.$schema).toBe("https://json-schema.org/draft/2020-12/schema");
  });
});

describe("keysAt(schema, path)", () => {
  it("follows keys, list positions and the branches of a choice", () => {
    const schema = fleetJsonSchema();
    expect(keysAt(schema, ["tasks", 0, "except", 1])).toEqual(["environment", "standard", "interval"]);
    expect(keysAt(schema, ["interval_steps"])).toEqual(["step", "largest_change"]);
    expect(keysAt(schema, ["environments"])).toEqual([]);
  });
});
