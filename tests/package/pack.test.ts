/** The package as somebody else gets it: packed, installed in an empty folder, run. */
import { execFile } from "node:child_process";
import { mkdir, mkdtemp, readdir, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { promisify } from "node:util";
import { beforeAll, describe, expect, it } from "vitest";

const ROOT = fileURLToPath(new URL("../..", import.meta.url));
const run = promisify(execFile);

// npm tells its own children about itself by the environment; the installation must not be influenced by that.
const env = Object.fromEntries(
  Object.entries(process.env).filter(([name]) => !/^npm_(?!config_)/i.test(name)),
);

let folder: string;

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), "rotorwear-pack-"));
  await run("npm", ["pack", "--silent", "--pack-destination", folder], { cwd: ROOT, env });
  const [tarball] = await readdir(folder);
  await mkdir(join(folder, "user"));
  await writeFile(join(folder, "user", "package.json"), '{"name":"user","private":true}\n');
  const install = [
    "install",
    "--silent",
    "--prefer-offline",
    "--no-audit",
    "--no-fund",
    join(folder, tarball!),
  ];
  await run("npm", install, { cwd: join(folder, "user"), env });
}, 300_000);

const rotorwear = (...args: string[]) =>
  run("npx", ["--no-install", "rotorwear", ...args], { cwd: join(folder, "user"), env });

const published = "node_modules/rotorwear/data-samples/published";

describe("npm pack, installed in an empty folder", () => {
  it("answers --help", async () => {
    expect((await rotorwear("--help")).stdout).toContain("Usage: rotorwear");
  });

  it("fits the published wear and life tables that come with it", async () => {
    const tables = await readdir(join(folder, "user", published));
    for (const command of ["wear", "life"]) {
      const table = tables.find((name) => name.endsWith(`-${command}.csv`))!;
      expect(table, `a published ${command} table`).toBeDefined();
      const { stdout } = await rotorwear(command, join(published, table), "--json");
      expect(JSON.parse(stdout)).toMatchObject({ schema: `rotorwear/${command}/1` });
    }
  });

  it("makes the demonstration month, its worker included", async () => {
    const fleet = "node_modules/rotorwear/data-samples/demonstration/fleet.yaml";
    const { stdout } = await rotorwear("report", fleet, "--out", "reports");
    const [page] = stdout.split("\n");
    expect(await readdir(join(folder, "user", "reports"))).toContain("index.html");
    expect(page).toMatch(/^reports\/\d{4}-\d{2}\/index\.html$/);
  }, 300_000);

  it("holds no test, source or map of the project", async () => {
    const files = await readdir(join(folder, "user", "node_modules", "rotorwear"));
    expect(files.sort()).toEqual(["README.md", "data-samples", "dist", "package.json"].sort());
  });
});
