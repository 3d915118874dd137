/** Runs the built command line as a user would: another process, its exit code, what it printed. */
import { type ChildProcess, spawn } from "node:child_process";
import { existsSync } from "node:fs";
import { fileURLToPath } from "node:url";

export const ROOT = fileURLToPath(new URL("../..", import.meta.url));
export const MAIN = fileURLToPath(new URL("../../dist/cli/main.js", import.meta.url));

export interface CliResult {
  readonly code: number | null;
  readonly signal: NodeJS.Signals | null;
  readonly stdout: string;
  readonly stderr: string;
}

export interface CliOptions {
  readonly cwd?: string;
  readonly env?: Readonly<Record<string, string>>;
  /** Called with the process as soon as it runs. */
  readonly started?: (child: ChildProcess) => void;
  /** A Node other than this one. */
  readonly node?: string;
}

/** Runs `rotorwear …` and waits for its end. */
export function runCli(args: readonly string[], options: CliOptions = {}): Promise<CliResult> {
  if (!existsSync(MAIN)) throw new Error("dist/ is missing: npm run build");
  return new Promise((resolve, reject) => {
    const child = spawn(options.node ?? process.execPath, [MAIN, ...args], {
      cwd: options.cwd ?? ROOT,
      env: { ...process.env, ...options.env },
      stdio: ["ignore", "pipe", "pipe"],
    });
    let stdout = "";
    let stderr = "";
    child.stdout.setEncoding("utf8").on("data", (text: string) => {
      stdout += text;
    });
    child.stderr.setEncoding("utf8").on("data", (text: string) => {
      stderr += text;
    });
    child.on("error", reject);
    child.on("close", (code, signal) => resolve({ code, signal, stdout, stderr }));
    options.started?.(child);
  });
}
