/** The fleet file's JSON schema, for editors (`rotorwear init --schema`) and for naming the keys that are valid somewhere. */
import { z } from "zod";
import { fleetSchema } from "./schema.ts";
import type { Path } from "./yaml-source.ts";

export interface JsonSchema {
  readonly $schema?: string;
  readonly title?: string;
  readonly description?: string;
  readonly type?: string | readonly string[];
  readonly properties?: Readonly<Record<string, JsonSchema>>;
  readonly required?: readonly string[];
  readonly additionalProperties?: boolean | JsonSchema;
  readonly items?: JsonSchema;
  readonly anyOf?: readonly JsonSchema[];
  readonly [key: string]: unknown;
}

/** JSON schema (draft 2020-12) of a fleet file as a person writes it. */
export function fleetJsonSchema(): JsonSchema {
  const schema = z.toJSONSchema(fleetSchema, { io: "input" }) as JsonSchema;
  return { ...schema, title: "rotorwear fleet file" };
}

/** Keys that a mapping at `path` may have; empty where any key may stand there (recorded words). */
export function keysAt(schema: JsonSchema, path: Path): readonly string[] {
  let candidates: readonly JsonSchema[] = branches(schema);
  for (const step of path) {
    candidates = candidates.flatMap((candidate) => {
      const next =
        typeof step === "number"
          ? candidate.items
          : (candidate.properties?.[step] ??
            (typeof candidate.additionalProperties === "object"
              ? candidate.additionalProperties
              : undefined));
      return next === undefined ? [] : branches(next);
    });
  }
  return candidates.flatMap((candidate) => Object.keys(candidate.properties ?? {}));
}

const branches = (schema: JsonSchema): readonly JsonSchema[] => schema.anyOf?.flatMap(branches) ?? [schema];
