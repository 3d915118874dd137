/** Kinds of values that a fleet file's keys take: texts and quantities, with the wording of what they expect. */
import { z } from "zod";
import { type Quantity, readHours, readLengthMm, readNumber, readShare } from "./quantity.ts";

/** A text that must not be empty. Unquoted numbers are texts too, so the JSON schema allows both. */
export const text = (description: string) =>
  z
    .string()
    .transform((value, context) => {
      const trimmed = value.trim();
      if (trimmed !== "") return trimmed;
      context.issues.push({ code: "custom", message: "a text", input: value, params: { hint: EMPTY } });
      return z.NEVER;
    })
    .meta({ description, type: ["string", "number"] });
const EMPTY = "nothing stands after the key: fill it in, or take the key out";

/** A text that one of the readers of quantity.ts takes. */
export const quantity = <T>(read: (value: string) => Quantity<T>, description: string, example: string) =>
  z
    .string()
    .transform((value, context) => {
      const result = value.trim() === "" ? null : read(value);
      if (result?.kind === "ok") return result.value;
      const message = result?.expected ?? `a value such as "${example}"`;
      context.issues.push({ code: "custom", message, input: value, params: { hint: result?.hint ?? EMPTY } });
      return z.NEVER;
    })
    .meta({ description, type: ["string", "number"], examples: [example] });

/** A quantity that must also lie where `holds` says; `expected` says where. */
export const bounded = (
  read: (value: string) => Quantity,
  holds: (value: number) => boolean,
  expected: string,
  description: string,
  example: string,
) =>
  quantity(
    (value) => {
      const result = read(value);
      if (result.kind === "problem" || holds(result.value)) return result;
      return { kind: "problem", expected, hint: `write it as "${example}"` };
    },
    description,
    example,
  );

/** A length with its unit, to millimetres. */
export const length = (description: string, example: string) => quantity(readLengthMm, description, example);
/** Flight hours with their unit. */
export const hours = (description: string, example: string) => quantity(readHours, description, example);
/** A share: a number from 0 to 1, or a percentage. */
export const share = (description: string, example: string) => quantity(readShare, description, example);
/** A whole number. */
export const count = (description: string, example: string) =>
  bounded(
    readNumber,
    (v) => Number.isInteger(v) && v >= 0,
    "a whole number, 0 or more",
    description,
    example,
  );
/** A chance between 0 and 1. */
export const chance = (description: string, example: string) =>
  bounded(
    readShare,
    (v) => v > 0 && v < 1,
    "a chance between 0 and 1, neither of them",
    description,
    example,
  );

/** A text, or a list of texts: always read as a list. */
export const textOrList = (description: string) =>
  z
    .union([text(description), z.array(text(description)).min(1)])
    .transform((value) => (typeof value === "string" ? [value] : value))
    .meta({ description });

/** Recorded words, each with what it means. */
export const words = <T extends z.ZodType>(meaning: T, description: string) =>
  z.record(z.string(), meaning).optional().meta({ description });
