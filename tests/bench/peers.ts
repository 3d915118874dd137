/** The two peers: scripts beside this file, run by R and Python as Debian packages them. */
import { existsSync } from "node:fs";
import { readdir, readFile } from "node:fs/promises";
import { join } from "node:path";
import { type Command, runToEnd } from "./measure.ts";

const SCRIPTS = join(import.meta.dirname, "peers");
/** Not the python3 first on the path: Debian's packages belong to this one. */
const PYTHON = "/usr/bin/python3";

const PACKAGES = [
  "time",
  "r-base-core",
  "r-cran-data.table",
  "r-cran-survival",
  "r-cran-ggplot2",
  "python3-pandas",
  "python3-scipy",
  "python3-matplotlib",
];

const IMPORTS = {
  R: "suppressPackageStartupMessages({library(data.table);library(survival);library(ggplot2)})",
  Python: "import numpy, pandas, scipy.optimize, scipy.stats, matplotlib.pyplot",
} as const;

export type PeerName = keyof typeof IMPORTS;
export const PEERS: readonly PeerName[] = ["R", "Python"];

const script = (peer: PeerName, name: string, args: readonly string[]): Command =>
  peer === "R"
    ? { program: "Rscript", args: [join(SCRIPTS, `${name}.R`), ...args] }
    : { program: PYTHON, args: ["-B", join(SCRIPTS, `${name}.py`), ...args] };

/** One month's work on a folder of exports. */
export const peerMonth = (peer: PeerName, exports: string, out: string): Command =>
  script(peer, "wear", [exports, out]);

/** A Weibull fit of a table of lives, so many times inside one process. */
export const peerWeibull = (peer: PeerName, table: string, times: number): Command =>
  script(peer, "weibull", [table, `${times}`]);

/** Starting up with what the month needs, and nothing else. */
export const peerStart = (peer: PeerName): Command =>
  peer === "R"
    ? { program: "Rscript", args: ["-e", IMPORTS.R] }
    : { program: PYTHON, args: ["-B", "-c", IMPORTS.Python] };

/** What is wrong with a peer's output; null: a page and six charts are there. */
export async function faultOfPage(out: string): Promise<string | null> {
  const page = await readFile(join(out, "page.html"), "utf8").catch(() => "");
  const charts = (await readdir(out).catch(() => [])).filter((name) => /^chart-\d\.png$/.test(name));
  const shown = page.match(/<img /g)?.length ?? 0;
  return charts.length === 6 && shown === 6
    ? null
    : `${charts.length} charts made and ${shown} shown, not six`;
}

/** Installs what lacks by Debian's package manager; says what it did. A peer that still lacks will die, and be said. */
export async function installPeers(say: (text: string) => void): Promise<void> {
  if (await allThere()) return;
  say(`installing ${PACKAGES.join(" ")}`);
  const asRoot = process.getuid?.() === 0 ? [] : ["sudo", "-n"];
  for (const args of [
    ["apt-get", "update", "-qq"],
    ["apt-get", "install", "-y", "-qq", "--no-install-recommends", ...PACKAGES],
  ]) {
    const [program = "", ...rest] = [...asRoot, "env", "DEBIAN_FRONTEND=noninteractive", ...args];
    const ended = await runToEnd({ program, args: rest }, 900_000);
    if (ended.code !== 0) say(`${args.slice(0, 2).join(" ")} failed: ${ended.stderr.trim().slice(-300)}`);
  }
}

async function allThere(): Promise<boolean> {
  if (!existsSync("/usr/bin/time")) return false;
  for (const peer of PEERS) {
    const ended = await runToEnd(peerStart(peer), 300_000).catch(() => null);
    if (ended?.code !== 0) return false;
  }
  return true;
}

const VERSIONS: Readonly<Record<PeerName, Command>> = {
  R: {
    program: "Rscript",
    args: [
      "-e",
      'cat(paste("R", paste(R.version$major, R.version$minor, sep = ".")), sprintf("%s %s", c("data.table", "survival", "ggplot2"), ' +
        'sapply(c("data.table", "survival", "ggplot2"), function(p) as.character(packageVersion(p)))), sep = ", ")',
    ],
  },
  Python: {
    program: PYTHON,
    args: [
      "-c",
      "import sys, numpy, pandas, scipy, matplotlib as m; print('Python ' + sys.version.split()[0], 'pandas ' + " +
        "pandas.__version__, 'NumPy ' + numpy.__version__, 'SciPy ' + scipy.__version__, 'matplotlib ' + m.__version__, sep=', ')",
    ],
  },
};

/** Versions of a peer and its libraries, in one line. */
export async function peerVersions(peer: PeerName): Promise<string> {
  const ended = await runToEnd(VERSIONS[peer], 300_000).catch(() => null);
  return ended?.code === 0 ? ended.stdout.trim() : `${peer}: not installed`;
}
