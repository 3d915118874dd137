/** Which program this is: name and version as pages print it, and the hash of its own files, which tells builds apart. */
import { createHash } from "node:crypto";
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { byCodeUnit } from "./effects.ts";

export interface Program {
  /** Such as "rotorwear 0.1.0". */
  readonly name: string;
  readonly sha256: string;
}

const ROOT = fileURLToPath(new URL("../../", import.meta.url));

/** The version in package.json. */
export function programVersion(): string {
  const value: unknown = JSON.parse(readFileSync(join(ROOT, "package.json"), "utf8"));
  const version = typeof value === "object" && value !== null && "version" in value ? value.version : null;
  if (typeof version !== "string") throw new Error("package.json has no version");
  return version;
}

/** What runs of a built program: what is started, and the bundle that holds all else, packages included. */
const RUNS = /^bundle\/|^cli\/main\.js$|-(?:process|worker)\.js$/;

/** Reads and hashes the program's own modules (built or not), in code-unit order of their paths. */
export function thisProgram(): Program {
  const folder = fileURLToPath(new URL("../", import.meta.url));
  const hash = createHash("sha256");
  const files = readdirSync(folder, { recursive: true, encoding: "utf8" })
    .map((file) => file.replaceAll("\\", "/"))
    .filter((file) => /\.(?:js|tsx?|json)$/.test(file) && !file.endsWith(".d.ts"))
    .sort(byCodeUnit);
  const isBundled = files.some((file) => file.startsWith("bundle/"));
  const own = isBundled ? files.filter((file) => RUNS.test(file)) : files;
  for (const file of own) hash.update(`${file}\n`).update(readFileSync(join(folder, file)));
  return { name: `rotorwear ${programVersion()}`, sha256: hash.digest("hex") };
}
