// Builds dist/ beside and swaps it in whole, so that no stale file stays and nobody meets a half-built folder.
import { spawnSync } from "node:child_process";
import { existsSync, renameSync, rmSync } from "node:fs";
import { fileURLToPath } from "node:url";

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
  const old = `${aside}-old`;
  if (existsSync("dist")) renameSync("dist", old);
  renameSync(aside, "dist");
  rmSync(old, { recursive: true, force: true });
}
rmSync(aside, { recursive: true, force: true });
process.exit(status ?? 1);
