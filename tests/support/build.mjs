// Builds dist/ beside and swaps it in whole, so that no stale file stays and nobody meets a half-built folder.
import { spawnSync } from "node:child_process";
import { existsSync, readdirSync, renameSync, rmSync } from "node:fs";
import { join, resolve } from "node:path";
import { fileURLToPath } from "node:url";
import { rolldown } from "rolldown";

process.chdir(fileURLToPath(new URL("../..", import.meta.url)));
const aside = `.build-${process.pid}`;
const tsc = fileURLToPath(import.meta.resolve("typescript/package.json")).replace(
  /package\.json$/,
  "bin/tsc",
);
const { status } = spawnSync(process.execPath, [tsc, "-p", "tsconfig.build.json", "--outDir", aside], {
  stdio: "inherit",
});
if (status === 0) {
  await bundle(aside);
  const old = `${aside}-old`;
  if (existsSync("dist")) renameSync("dist", old);
  renameSync(aside, "dist");
  rmSync(old, { recursive: true, force: true });
}
rmSync(aside, { recursive: true, force: true });
process.exit(status ?? 1);

/**
 * Puts what is started (the command line, and each thread) into a few files, with the packages it uses: a run starts several
 * threads, and each would find, read and link a thousand small files, which takes longer than what some of them then do.
 * A bundle lies in a folder of dist/, as deep as the modules it is made of, so that what they name relative to themselves
 * stays right; the modules stay beside it, for who imports one.
 */
async function bundle(folder) {
  const started = readdirSync(folder, { recursive: true, encoding: "utf8" })
    .map((file) => file.replaceAll("\\", "/"))
    .filter((file) => file === "cli/main.js" || /-(?:worker|process)\.js$/.test(file));
  const build = await rolldown({
    input: Object.fromEntries(started.map((file) => [file.slice(0, -3), resolve(folder, file)])),
    cwd: resolve(folder),
    platform: "node",
    onLog: (level, log) => {
      throw new Error(`${level}: ${log.message}`);
    },
  });
  await build.write({
    dir: resolve(folder),
    format: "esm",
    entryFileNames: "[name].js",
    chunkFileNames: "bundle/[name]-[hash].js",
  });
  await build.close();
  for (const file of started) rmSync(join(folder, `${file}.map`));
}
