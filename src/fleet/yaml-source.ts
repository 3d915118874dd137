/**
 * A fleet file as YAML: its value, with every scalar as the text that stands there, and the line of any key.
 */
import { isAlias, isMap, isScalar, isSeq, LineCounter, type Node, parseDocument, visit } from "yaml";

/** Keys and list positions from the top of the file to a value. */
export type Path = readonly (string | number)[];

interface YamlProblem {
  readonly line: number;
  readonly key: string;
  readonly expected: string;
  readonly found: string;
  readonly hint: string;
}

export interface YamlSource {
  readonly value: unknown;
  /** Line of the last key or list item of the path that stands in the file. */
  lineOf(path: Path): number;
}

export type YamlReading =
  | { readonly kind: "read"; readonly source: YamlSource }
  | { readonly kind: "problems"; readonly problems: readonly YamlProblem[] };

/** Value and lines of a YAML text, or what is wrong with it as YAML. Aliases are followed, up to a hundred. */
export function readYaml(text: string): YamlReading {
  const lines = new LineCounter();
  // The failsafe schema makes no numbers, dates or booleans: 0012 stays 0012. Repeated keys are found below.
  const document = parseDocument(text, {
    schema: "failsafe",
    lineCounter: lines,
    prettyErrors: false,
    uniqueKeys: false,
    logLevel: "error",
  });
  const lineAt = (offset: number): number => Math.max(1, lines.linePos(offset).line);
  const problems: YamlProblem[] = [...document.errors, ...document.warnings].map((error) => ({
    line: lineAt(error.pos[0]),
    key: "",
    expected: "YAML",
    found: wordAt(text, error.pos[0]),
    hint: error.message,
  }));
  if (problems.length === 0) problems.push(...badKeys(document, lineAt));
  if (problems.length > 0) return { kind: "problems", problems };
  const root = document.contents;
  try {
    const value: unknown = document.toJS({ maxAliasCount: 100 });
    return { kind: "read", source: { value, lineOf: (path) => lineOfPath(root, document, path, lineAt) } };
  } catch (error) {
    // Only aliases can fail here: one that names no anchor, or a nest of them that would fill the memory.
    const hint = error instanceof Error ? error.message : String(error);
    return {
      kind: "problems",
      problems: [{ line: 1, key: "", expected: "aliases that resolve", found: "one that doesn't", hint }],
    };
  }
}

type Document = ReturnType<typeof parseDocument>;

/** Keys that stand twice in one mapping (both lines named), or that are no plain text. */
function badKeys(document: Document, lineAt: (offset: number) => number): YamlProblem[] {
  const problems: YamlProblem[] = [];
  visit(document, {
    Map(_, map) {
      const seen = new Map<string, number>();
      for (const { key } of map.items) {
        const line = lineAt(isScalar(key) || isMap(key) || isSeq(key) ? (key.range?.[0] ?? 0) : 0);
        if (!isScalar(key)) {
          problems.push({
            line,
            key: "",
            expected: "a key that is plain text",
            found: String(key),
            hint: "quote it",
          });
          continue;
        }
        const name = String(key.value);
        // The one word that a JavaScript object can't hold as a key like any other.
        if (name === "__proto__") {
          problems.push({ line, key: name, expected: "another word", found: name, hint: "rename it" });
        }
        const first = seen.get(name);
        if (first === undefined) seen.set(name, line);
        else {
          const expected = "each key once";
          const hint = `it stands on line ${first} already: one recorded word has one meaning, one key one value`;
          problems.push({ line, key: name, expected, found: `${name} again`, hint });
        }
      }
    },
  });
  return problems;
}

/** The first word of the line that begins at or after an offset: enough to recognise the place. */
const wordAt = (text: string, offset: number): string =>
  text.slice(offset).split(/\r|\n/, 1)[0]!.trim().slice(0, 40);

function lineOfPath(
  root: unknown,
  document: Document,
  path: Path,
  lineAt: (offset: number) => number,
): number {
  let node = resolve(root, document);
  let offset = startOf(node);
  for (const step of path) {
    if (isMap(node)) {
      const pair = node.items.find((item) => isScalar(item.key) && String(item.key.value) === String(step));
      if (pair === undefined) break;
      offset = startOf(pair.key) ?? offset;
      node = resolve(pair.value, document);
    } else if (isSeq(node)) {
      const item = node.items[Number(step)];
      if (item === undefined) break;
      offset = startOf(item) ?? offset;
      node = resolve(item, document);
    } else break;
  }
  return lineAt(offset ?? 0);
}

const startOf = (node: unknown): number | undefined => (node as Node | null)?.range?.[0];

const resolve = (node: unknown, document: Document): unknown =>
  isAlias(node) ? node.resolve(document) : node;
