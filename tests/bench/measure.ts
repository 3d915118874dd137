/** One run of one program, measured from outside: wall and CPU seconds, and the memory of the largest process. */
import { spawn } from "node:child_process";
import { mkdtemp, readFile, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";

export interface Measured {
  readonly kind: "measured";
  readonly wallS: number;
  /** User and system, of the program and everything it started. */
  readonly cpuS: number;
  /** Resident memory of the largest process of the tree at its greatest. */
  readonly peakMB: number;
  readonly stdout: string;
}

export interface Died {
  readonly kind: "died";
  readonly why: string;
}

export interface Command {
  readonly program: string;
  readonly args: readonly string[];
  readonly folder?: string;
}

const LAST_WORDS = 300;

/**
 * Runs a command under /usr/bin/time -v. A run that ends badly, or not within the limit, is an answer and not an error.
 * Wall seconds are the driver's own: those of `time` have two decimals.
 */
export async function measure(command: Command, limitMinutes: number): Promise<Measured | Died> {
  const folder = await mkdtemp(join(tmpdir(), "rotorwear-time-"));
  const report = join(folder, "time.txt");
  try {
    const args = ["-v", "-o", report, command.program, ...command.args];
    const ended = await runToEnd({ ...command, program: "/usr/bin/time", args }, limitMinutes * 60_000);
    if (ended.overran) return { kind: "died", why: `not done after ${limitMinutes} minutes` };
    if (ended.code !== 0) {
      const words = ended.stderr.trim().slice(-LAST_WORDS).replaceAll(/\s+/g, " ");
      return { kind: "died", why: `exit ${ended.code ?? ended.signal}: ${words}` };
    }
    const times = parseTimes(await readFile(report, "utf8"));
    return { kind: "measured", wallS: ended.wallS, ...times, stdout: ended.stdout };
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
}

interface Ended {
  readonly code: number | null;
  readonly signal: string | null;
  readonly overran: boolean;
  readonly wallS: number;
  readonly stdout: string;
  readonly stderr: string;
}

/** Runs a command to its end; past the limit the whole group of processes that it started is killed. */
export function runToEnd(command: Command, limitMs: number): Promise<Ended> {
  return new Promise((resolve, reject) => {
    const started = performance.now();
    const child = spawn(command.program, command.args, {
      cwd: command.folder,
      detached: true,
      stdio: ["ignore", "pipe", "pipe"],
    });
    let overran = false;
    const stdout: Buffer[] = [];
    const stderr: Buffer[] = [];
    child.stdout.on("data", (bytes: Buffer) => stdout.push(bytes));
    child.stderr.on("data", (bytes: Buffer) => stderr.push(bytes));
    const stop = setTimeout(() => {
      overran = true;
      if (child.pid !== undefined) process.kill(-child.pid, "SIGKILL");
    }, limitMs);
    child.on("error", (error) => {
      clearTimeout(stop);
      reject(error);
    });
    child.on("close", (code, signal) => {
      clearTimeout(stop);
      const text = (pieces: readonly Buffer[]) => Buffer.concat(pieces).toString("utf8");
      const wallS = (performance.now() - started) / 1000;
      resolve({ code, signal, overran, wallS, stdout: text(stdout), stderr: text(stderr) });
    });
  });
}

/** What `time -v` wrote: CPU seconds and the greatest resident size, which is that of the largest process waited for. */
export function parseTimes(text: string): { cpuS: number; peakMB: number } {
  const value = (label: string): number => {
    const found = new RegExp(`${label}[^:]*: ([\\d.]+)\\s*$`, "m").exec(text);
    if (found === null)
      throw new Error(`/usr/bin/time -v wrote no line "${label}"; found: ${text.slice(0, 200)}`);
    return Number(found[1]);
  };
  return {
    cpuS: value("User time") + value("System time"),
    peakMB: (value("Maximum resident set size") * 1024) / 1e6,
  };
}
