/** What may import what, what may touch the world, and how long a file may be. */
import { readdirSync, readFileSync } from "node:fs";
import { dirname, join, posix } from "node:path";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";

const SOURCE = fileURLToPath(new URL("../src", import.meta.url));

/** Each layer may import itself and those before it; the members of one row don't import each other. */
const LAYERS: readonly (readonly string[])[] = [
  ["problems", "units"],
  ["math"],
  ["records"],
  ["fleet"],
  ["ingest", "wear", "life", "trend"],
  ["interval"],
  ["replay"],
  ["report"],
  ["pipeline"],
  ["replay-month"],
  ["replay-months"],
  ["simulate", "run"],
  ["cli"],
];
/** Units are below problems; the run's own commands may write what simulate makes. */
const ALSO_ALLOWED = new Set(["problems→units"]);

interface SourceFile {
  /** Path under src, with "/". */
  readonly path: string;
  readonly text: string;
  /** The text without comments and without the insides of strings. */
  readonly code: string;
  readonly imports: readonly string[];
}

/** Removes comments, and empties strings and templates; good enough for the names that are looked for. */
function codeOnly(text: string): string {
  const token = /\/\*[\s\S]*?\*\/|\/\/[^\n]*|"(?:[^"\\\n]|\\.)*"|'(?:[^'\\\n]|\\.)*'|`(?:[^`\\]|\\.)*`/g;
  return text.replace(token, (match) => {
    if (match.startsWith("/")) return "";
    // What a template computes is code.
    if (match.startsWith("`")) return (match.match(/\$\{[^}]*\}/g) ?? []).join(" ");
    return '""';
  });
}

const IMPORT = /(?:^|\n)(?:import|export)\b([^;"'=(]*?\bfrom)?\s*["']([^"']+)["']/g;

const importsOf = (text: string): string[] => [
  ...[...text.matchAll(IMPORT)].map((match) => match[2] ?? ""),
  ...[...text.matchAll(/\bimport\(\s*["']([^"']+)["']\s*\)/g)].map((match) => match[1] ?? ""),
];

const files: readonly SourceFile[] = readdirSync(SOURCE, { recursive: true, encoding: "utf8" })
  .map((path) => path.replaceAll("\\", "/"))
  .filter((path) => /\.tsx?$/.test(path))
  .sort()
  .map((path) => {
    const text = readFileSync(join(SOURCE, path), "utf8");
    return { path, text, code: codeOnly(text), imports: importsOf(text) };
  });

const topOf = (path: string): string => (path.split("/")[0] ?? "").replace(/\.tsx?$/, "");
const resolved = (file: SourceFile, target: string): string => posix.join(dirname(file.path), target);
const ownImports = (file: SourceFile): string[] =>
  file.imports.filter((target) => target.startsWith(".")).map((target) => resolved(file, target));
const layerOf = (top: string): number => LAYERS.findIndex((row) => row.includes(top));

/** Exported functions and classes; the name in one of the two groups. */
const EXPORTED =
  /^export (?:async )?(?:(?:function|class) (\w+)|const (\w+)(?:: [^=\n]*)? = (?:async )?(?=[(<]|\w+ =>))/gm;

const under =
  (...prefixes: string[]) =>
  (path: string) =>
    prefixes.some((prefix) => path.startsWith(prefix));
const inWorld = under("run/", "cli/");

/** A thing that results may not depend on, and where it may stand all the same. */
interface Ban {
  readonly what: string;
  readonly pattern: RegExp;
  readonly allowed: (path: string) => boolean;
}

const BANS: readonly Ban[] = [
  { what: "Date.now", pattern: /\bDate\.now\b/, allowed: inWorld },
  { what: "new Date() of this moment", pattern: /\bnew Date\(\s*\)/, allowed: inWorld },
  { what: "performance", pattern: /\bperformance\.now\b/, allowed: inWorld },
  { what: "Math.random", pattern: /\bMath\.random\b/, allowed: () => false },
  // V8's own power function changed its last bits between Node 20 and 24; squares and powers of 2 are exact in both.
  {
    what: "powers that differ between releases of Node",
    pattern: /(?<!\b2 )\*\*(?! 2\b)|\bMath\.pow\b/,
    allowed: (path) => path === "math/power.ts",
  },
  { what: "Intl", pattern: /\bIntl\./, allowed: () => false },
  { what: "toLocale…", pattern: /\.toLocale\w*/, allowed: () => false },
  { what: "localeCompare", pattern: /\.localeCompare\b/, allowed: () => false },
  { what: "process", pattern: /\bprocess\.\w/, allowed: inWorld },
  {
    what: "local time",
    pattern: /\.get(?:FullYear|Month|Date|Day|Hours|Minutes|TimezoneOffset)\(/,
    allowed: () => false,
  },
];

const WORLD_MODULES =
  /^(?:node:)?(?:fs|fs\/promises|child_process|os|net|http|https|worker_threads|process)$/;

describe("src", () => {
  it("has a layer for every folder, and imports go one way", () => {
    const wrong: string[] = [];
    for (const file of files) {
      const from = topOf(file.path);
      if (layerOf(from) < 0) wrong.push(`${file.path}: no layer`);
      for (const target of ownImports(file)) {
        const to = topOf(target);
        const oneWay = from === to || layerOf(to) < layerOf(from) || ALSO_ALLOWED.has(`${from}→${to}`);
        if (!oneWay) wrong.push(`${file.path} imports ${target}`);
      }
    }
    expect(wrong).toEqual([]);
  });

  it("imports files that exist, by their names in the source", () => {
    const known = new Set(files.map((file) => file.path));
    const wrong = files.flatMap((file) =>
      ownImports(file)
        .filter((target) => !known.has(target) && !target.endsWith(".json"))
        .map((target) => `${file.path} imports ${target}`),
    );
    expect(wrong).toEqual([]);
  });

  it("has no cycle of imports that exist at run time", () => {
    const graph = new Map(files.map((file) => [file.path, runtimeImports(file)]));
    expect(findCycle(graph)).toEqual([]);
  });

  it.each(BANS)("keeps $what out of results", ({ pattern, allowed }) => {
    expect(
      files.filter((file) => !allowed(file.path) && pattern.test(file.code)).map((file) => file.path),
    ).toEqual([]);
  });

  it("touches files, processes and the machine only in run/, cli/ and the reader of exports", () => {
    const allowed = (path: string) => inWorld(path) || /^ingest\/read-[\w-]+\.ts$/.test(path);
    const wrong = files
      .filter((file) => !allowed(file.path) && file.imports.some((target) => WORLD_MODULES.test(target)))
      .map((file) => file.path);
    expect(wrong).toEqual([]);
  });

  it("has files of at most 250 lines of code, unless one says at its top why it is longer", () => {
    const linesOfCode = ({ code }: SourceFile) =>
      code.split("\n").filter((line) => line.trim() !== "").length;
    const tooLong = files
      .filter((file) => linesOfCode(file) > 250 && !/^[\s\S]{0,1500}?\bLong because\b/.test(file.text))
      .map((file) => `${file.path}: ${linesOfCode(file)} lines`);
    expect(tooLong).toEqual([]);
  });

  it("says what each exported function or class is, or what the file is where it is the only one", () => {
    const wrong = files.flatMap(({ path, text }) => {
      const found = [...text.matchAll(EXPORTED)];
      const bare = found.filter(({ index }) => !/\*\/\n(?:\s*\/\/.*\n)*$/.test(text.slice(0, index)));
      return found.length > 1 ? bare.map((match) => `${path}: ${match[1] ?? match[2]}`) : [];
    });
    expect(wrong).toEqual([]);
  });

  it("exports by name only, and says near the top of each file what it is", () => {
    const wrong = files.filter(
      ({ text, code }) => /\bexport default\b/.test(code) || !/^[\s\S]{0,1500}?\/\*\*/.test(text),
    );
    expect(wrong.map((file) => file.path)).toEqual([]);
  });
});

/** Imports left after the compiler has dropped the types. */
function runtimeImports(file: SourceFile): string[] {
  const statements = file.text.matchAll(IMPORT);
  return [...statements]
    .filter(([, clause]) => !/^\s*type\b/.test(clause ?? ""))
    .map(([, , target]) => target ?? "")
    .filter((target) => target.startsWith("."))
    .map((target) => resolved(file, target));
}

/** One cycle of the graph as a list of paths; empty where there is none. */
function findCycle(graph: ReadonlyMap<string, readonly string[]>): string[] {
  const done = new Set<string>();
  const walk = (path: string, trail: readonly string[]): string[] => {
    const at = trail.indexOf(path);
    if (at >= 0) return [...trail.slice(at), path];
    if (done.has(path)) return [];
    for (const target of graph.get(path) ?? []) {
      const cycle = walk(target, [...trail, path]);
      if (cycle.length > 0) return cycle;
    }
    done.add(path);
    return [];
  };
  for (const path of graph.keys()) {
    const cycle = walk(path, []);
    if (cycle.length > 0) return cycle;
  }
  return [];
}

describe("the checks themselves", () => {
  it("see through comments and strings, and into templates", () => {
    const code = ["a(`x $", "{Date.now()} y`) // Math.random"].join("");
    expect(codeOnly(code)).toContain("Date.now()");
    expect(codeOnly('a("Date.now"); // Math.random')).not.toMatch(/Date|Math/);
  });

  it("find exported functions of each form, and no other exports", () => {
    const text =
      "export const a = (x: number): number => x;\nexport const b = 3;\nexport async function c() {}\n";
    expect([...text.matchAll(EXPORTED)].map((match) => match[1] ?? match[2])).toEqual(["a", "c"]);
  });

  it("find a cycle", () => {
    expect(
      findCycle(
        new Map([
          ["a", ["b"]],
          ["b", ["c"]],
          ["c", ["b"]],
        ]),
      ),
    ).toEqual(["b", "c", "b"]);
  });
});
