import { execFile } from "node:child_process";
import { mkdtemp, readdir, readFile, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { pageName } from "../../notebooks/page.tsx";
import { ROOT } from "../support/run-cli.ts";

/** Runs `npm run notebooks -- …` without npm. */
function runNotebooks(...args: string[]): Promise<{ code: number; stdout: string; stderr: string }> {
  return new Promise((resolve) => {
    const tsx = join(ROOT, "node_modules", "tsx", "dist", "cli.mjs");
    const child = execFile(
      process.execPath,
      [tsx, "notebooks/run.ts", ...args],
      { cwd: ROOT, encoding: "utf8" },
      (_error, stdout, stderr) => resolve({ code: child.exitCode ?? -1, stdout, stderr }),
    );
  });
}

const notebooks = (await readdir(join(ROOT, "notebooks"))).filter(
  (name) => name.endsWith(".nb.ts") && !name.startsWith("."),
);

// Time for five notebooks on a busy machine.
describe("notebooks/run.ts", { timeout: 300_000 }, () => {
  it("runs every notebook into one self-contained page each", async () => {
    const out = await mkdtemp(join(tmpdir(), "rotorwear-notebooks-"));
    const { code, stderr } = await runNotebooks("--out", out);
    expect([code, stderr]).toEqual([0, ""]);
    expect((await readdir(out)).sort()).toEqual(notebooks.map(pageName).sort());
    for (const name of notebooks) {
      const page = await readFile(join(out, pageName(name)), "utf8");
      const shown = page.replace(
        /<script>[\s\S]*?<\/script>|<style>[\s\S]*?<\/style>|<pre>[\s\S]*?<\/pre>/g,
        "",
      );
      expect(page.includes("default-src 'none'"), name).toBe(true);
      expect(shown.match(/(?:src|href)="(?:https?:)?\/\/[^"]*/g), name).toBeNull();
      expect(shown.match(/.{0,60}(?:NaN|undefined|Infinity).{0,60}/g), name).toBeNull();
      expect(shown.match(/<table/g)?.length ?? 0, name).toBeGreaterThan(0);
    }
    const left = (await readdir(join(ROOT, "notebooks"))).filter((name) => name.startsWith(`.running-`));
    expect(left).toEqual([]);
  });

  it("names the cell that fails, its line, and writes no page", async () => {
    const folder = await mkdtemp(join(tmpdir(), "rotorwear-notebooks-"));
    const path = join(folder, "99-broken.nb.ts");
    const text = [
      "// %% [markdown]",
      "// # Broken",
      "",
      "// %% Sound",
      "const answer = 41;",
      "",
      "// %% Unsound",
      'if (answer !== 42) throw new Error("forty-two was expected");',
      "",
    ];
    await writeFile(path, text.join("\n"));
    const { code, stdout, stderr } = await runNotebooks(path, "--out", join(folder, "pages"));
    expect(code).toBe(1);
    expect(stdout).toBe("");
    expect(stderr).toMatch(/99-broken\.nb\.ts:8: cell 2, "Unsound" failed: forty-two was expected/);
    expect(await readdir(join(folder, "pages"))).toEqual([]);
    expect(await readdir(folder)).not.toContainEqual(expect.stringMatching(/^\.running/));
  });
});

describe("the notebooks", () => {
  it.each(notebooks)("%s names its data near its top, for whoever copies it", async (name) => {
    const text = await readFile(join(ROOT, "notebooks", name), "utf8");
    const line = text.split("\n").findIndex((one) => /^const \w+ = "data-samples\//.test(one));
    expect(line).toBeGreaterThan(0);
    expect(line).toBeLessThan(32);
  });
});
