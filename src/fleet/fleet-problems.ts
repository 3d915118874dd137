/** Everything that is wrong with one fleet file, gathered, put into one wording, and thrown together. */
import type { z } from "zod";
import { UsageError } from "../problems.ts";
import { nearestWord } from "./nearest-word.ts";
import type { Path, YamlSource } from "./yaml-source.ts";

export interface FleetProblem {
  readonly line: number;
  /** "parts[0].replace_at"; empty for the file as a whole. */
  readonly key: string;
  readonly expected: string;
  readonly found: string;
  /** What to do; names the other line where two together are impossible. */
  readonly hint: string;
}

/** How many problems one message lists. */
const MOST_LISTED = 20;

/** `fleet.yaml:12 parts[0].replace_at: expected a length with its unit, got "0.5" (write the unit)` */
function describeFleetProblem(fileName: string, problem: FleetProblem): string {
  const key = problem.key === "" ? "" : ` ${problem.key}`;
  const hint = problem.hint === "" ? "" : ` (${problem.hint})`;
  const line = `${fileName}:${problem.line}${key}: expected ${problem.expected}, got ${problem.found}${hint}`;
  return line.replace(UNSEEN, (letter) => `\\u${letter.charCodeAt(0).toString(16).padStart(4, "0")}`);
}

/** Letters that would act on a terminal, or turn a line about, instead of being seen. */
const UNSEEN = /[\p{Cc}\u00ad\u061c\u200b-\u200f\u2028-\u202e\u2060-\u206f\ufeff]/gu;

/** One error for all problems, in the order of their lines; at most 20 are listed, the rest counted. */
export function fleetError(fileName: string, problems: readonly FleetProblem[]): UsageError {
  const ordered = [...problems].sort((a, b) => a.line - b.line);
  const lines = ordered.slice(0, MOST_LISTED).map((problem) => describeFleetProblem(fileName, problem));
  if (ordered.length > MOST_LISTED) lines.push(`…and ${ordered.length - MOST_LISTED} more`);
  return new UsageError("E-FLEET", lines.join("\n"));
}

/** A path as people write it: exports.wear.columns.date, parts[0].replace_at; recorded words of other letters quoted. */
export const pathText = (path: Path): string =>
  path
    .map((step, i) => (typeof step === "number" ? `[${step}]` : `${i === 0 ? "" : "."}${keyText(step)}`))
    .join("");

const keyText = (key: string): string => (/^[\p{L}\p{N}_ -]+$/u.test(key) ? key : JSON.stringify(key));

/** A value as a message shows it: in quotes and short, or what kind of thing it is. */
export function shown(value: unknown): string {
  if (value === undefined) return "nothing";
  if (value === null || value === "") return "an empty value";
  if (typeof value === "string") return JSON.stringify(value.length > 60 ? `${value.slice(0, 57)}…` : value);
  return Array.isArray(value) ? "a list" : "a mapping of keys";
}

/** What stands at a path of the parsed file; undefined where nothing does. */
export function valueAt(root: unknown, path: Path): unknown {
  let value = root;
  for (const step of path) {
    if (typeof value !== "object" || value === null) return undefined;
    if (!Object.hasOwn(value, step)) return undefined;
    value = (value as Record<string | number, unknown>)[step];
  }
  return value;
}

type Issue = z.core.$ZodIssue;

/** zod's issues in our wording; an issue of a union becomes the issues of the branch that was meant. */
export function problemsOfIssues(
  issues: readonly Issue[],
  source: YamlSource,
  validKeys: (path: Path) => readonly string[],
  above: Path = [],
): FleetProblem[] {
  return issues.flatMap((issue) => {
    const path: Path = [
      ...above,
      ...issue.path.map((step) => (typeof step === "number" ? step : String(step))),
    ];
    const at = (expected: string, hint: string): FleetProblem => ({
      line: source.lineOf(path),
      key: pathText(path),
      expected,
      found: shown(valueAt(source.value, path)),
      hint,
    });
    switch (issue.code) {
      case "custom":
        return [at(issue.message, typeof issue.params?.hint === "string" ? issue.params.hint : "")];
      case "unrecognized_keys":
        return issue.keys.map((key) => unknownKey(key, [...path, key], validKeys(path), source));
      case "invalid_value": {
        const valid = issue.values.map(String);
        const found = valueAt(source.value, path);
        const near = typeof found === "string" ? nearestWord(found, valid) : null;
        const hint = near === null ? "" : `did you mean "${near}"?`;
        return [at(oneOf(valid), found === undefined ? missingHint(path) : hint)];
      }
      case "invalid_union": {
        const meant = issue.errors.filter(
          (branch) => !branch.some((inner) => inner.path.length === 0 && inner.code === "invalid_type"),
        );
        const branch = meant.length > 0 ? meant : issue.errors;
        return branch.length === 1
          ? problemsOfIssues(branch[0]!, source, validKeys, path)
          : [at(unionText(issue.errors), "")];
      }
      case "too_small":
        return [at("at least one entry", "take the key out, or fill it in")];
      case "invalid_type":
        return [
          at(typeText(issue.expected), valueAt(source.value, path) === undefined ? missingHint(path) : ""),
        ];
      default:
        return [at(issue.message, "")];
    }
  });
}

function unknownKey(key: string, path: Path, valid: readonly string[], source: YamlSource): FleetProblem {
  // A key that the mapping has already is not what was meant.
  const there = valueAt(source.value, path.slice(0, -1));
  const missing = valid.filter((name) => !Object.hasOwn(Object(there), name));
  const near = nearestWord(key, missing);
  const hint = near === null ? `valid here: ${valid.join(", ")}` : `did you mean "${near}"?`;
  return {
    line: source.lineOf(path),
    key: pathText(path),
    expected: "a known key",
    found: JSON.stringify(key),
    hint,
  };
}

const missingHint = (path: Path): string => `add ${String(path.at(-1) ?? "it")}`;

const oneOf = (valid: readonly string[]): string =>
  valid.length === 1 ? `"${valid[0]}"` : `one of ${valid.map((word) => JSON.stringify(word)).join(", ")}`;

const TYPE_TEXT: Readonly<Record<string, string>> = {
  string: "a text",
  object: "a mapping of keys",
  record: "a mapping of recorded words to meanings",
  array: "a list",
};
const typeText = (expected: string): string => TYPE_TEXT[expected] ?? expected;

const unionText = (branches: readonly (readonly Issue[])[]): string =>
  branches
    .map((branch) => branch[0])
    .map((issue) =>
      issue?.code === "invalid_value"
        ? oneOf(issue.values.map(String))
        : issue?.code === "invalid_type"
          ? typeText(issue.expected)
          : "another value",
    )
    .join(", or ");
