/**
 * Runs notebooks and writes a page for each: `npm run notebooks`, or some of them with
 * `npm run notebooks -- notebooks/01-wear-rates.nb.ts --out /tmp/pages`. A failing cell names itself and fails the run.
 */
import { mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { basename, dirname, join, relative } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { parseArgs } from "node:util";
import { cellsOf, withCellCalls } from "./cells.ts";
import { beginCell, beginNotebook, cellAtWork } from "./kit.ts";
import { type Notebook, notebookPage, pageName, titleOf } from "./page.tsx";

const HERE = dirname(fileURLToPath(import.meta.url));
const HOOK = "rotorwearNotebookCell";

const isNotebook = (name: string): boolean => name.endsWith(".nb.ts") && !name.startsWith(".");

/** Where the error arose in the notebook, as far as its stack says. */
function lineIn(error: unknown, running: string): string {
  const stack = error instanceof Error ? (error.stack ?? "") : "";
  const at = stack.indexOf(basename(running));
  return at < 0 ? "" : (/^[^:]*:(\d+)/.exec(stack.slice(at))?.[1] ?? "");
}

/**
 * Runs one notebook from top to bottom.
 *
 * @throws Error that names the notebook, the cell and its line
 */
async function runNotebook(path: string): Promise<Notebook> {
  const name = basename(path);
  const text = readFileSync(path, "utf8");
  const cells = cellsOf(text, name);
  const outputs = beginNotebook();
  // Beside the notebook, so that its imports lead where they say; hidden, and removed whatever happens.
  const running = join(dirname(path), `.running-${process.pid}-${name.replace(/\.nb\.ts$/, ".ts")}`);
  writeFileSync(running, withCellCalls(text, HOOK));
  try {
    await import(pathToFileURL(running).href);
  } catch (error) {
    const cell = cells.find((one) => one.kind === "code" && one.number === cellAtWork());
    const line = lineIn(error, running) || String(cell?.line ?? 1);
    const where = cell?.kind === "code" ? `cell ${cell.number}, "${cell.title}"` : "its imports";
    throw new Error(
      `${relative(process.cwd(), path)}:${line}: ${where} failed: ${error instanceof Error ? error.message : error}`,
      { cause: error },
    );
  } finally {
    rmSync(running, { force: true });
  }
  return { name, cells, outputs: new Map(outputs) };
}

/** Notebooks named, or all; where their pages go; whether to show where in the program an error arose. */
function argumentsOf(args: readonly string[]): { paths: string[]; out: string; debug: boolean } {
  const { values, positionals } = parseArgs({
    args: [...args],
    options: { out: { type: "string" }, debug: { type: "boolean" } },
    allowPositionals: true,
  });
  const all = readdirSync(HERE)
    .filter(isNotebook)
    .sort()
    .map((name) => join(HERE, name));
  return {
    paths: positionals.length > 0 ? positionals : all,
    out: values.out ?? join(HERE, "..", "reports", "notebooks"),
    debug: values.debug ?? false,
  };
}

async function main({ paths, out }: { paths: readonly string[]; out: string }): Promise<void> {
  const titles = paths.map((path) => ({
    name: basename(path),
    title: titleOf(cellsOf(readFileSync(path, "utf8"), basename(path)), basename(path)),
  }));
  mkdirSync(out, { recursive: true });
  for (const path of paths) {
    const notebook = await runNotebook(path);
    const file = join(out, pageName(notebook.name));
    writeFileSync(file, await notebookPage(notebook, titles));
    console.log(relative(process.cwd(), file));
  }
}

(globalThis as Record<string, unknown>)[HOOK] = beginCell;
let debug = false;
try {
  const given = argumentsOf(process.argv.slice(2));
  debug = given.debug;
  await main(given);
} catch (error) {
  console.error(error instanceof Error ? error.message : error);
  if (debug) console.error(error);
  process.exitCode = 1;
}
