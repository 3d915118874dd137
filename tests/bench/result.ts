/** What a bench found, as the page that is committed. */
import { readFile } from "node:fs/promises";
import { cpus, release, totalmem } from "node:os";
import { ROOT, SEED } from "./make-data.ts";
import { runToEnd } from "./measure.ts";
import { PEERS, peerVersions } from "./peers.ts";
import type { MonthRow, Stages } from "./rows.ts";
import { comparisonTable, growthTable, type Row, remarks } from "./table.ts";

export interface Found {
  readonly command: string;
  readonly repeat: number;
  readonly months: readonly MonthRow[];
  readonly others: readonly Row[];
  readonly growth: Parameters<typeof growthTable>[0];
  readonly agreement: readonly string[];
  /** False while rows are still to come. */
  readonly complete: boolean;
}

export interface Surroundings {
  readonly commit: string;
  readonly date: string;
  readonly machine: string;
  readonly programs: readonly string[];
}

/** Commit, day, machine and versions. */
export async function surroundings(): Promise<Surroundings> {
  const git = async (...args: string[]) =>
    (await runToEnd({ program: "git", args, folder: ROOT }, 60_000)).stdout.trim();
  const changed = await git("status", "--porcelain", "--", "src", "tests/bench", "package-lock.json");
  const { version } = JSON.parse(await readFile(`${ROOT}/package.json`, "utf8")) as { version: string };
  const cores = cpus();
  const peers: string[] = [];
  for (const peer of PEERS) peers.push(await peerVersions(peer));
  return {
    commit: `${await git("rev-parse", "--short=12", "HEAD")}${changed === "" ? "" : ", with changes that are not committed"}`,
    date: new Date().toISOString().slice(0, 10),
    machine: `${cores.length} × ${cores[0]?.model ?? "unknown"}, ${Math.round(totalmem() / 2 ** 30)} GiB, Linux ${release()}`,
    programs: [`rotorwear ${version} on Node ${process.versions.node}`, ...peers],
  };
}

function stagesTable(months: readonly MonthRow[]): string {
  const known = months.filter(
    (one): one is MonthRow & { stages: NonNullable<Stages> } => one.stages !== null,
  );
  if (known.length === 0) return "The runs left no times by stage in their logs.";
  const names = [...new Set(known.flatMap(({ stages }) => Object.keys(stages)))];
  const lines = names.map((name) => [
    name,
    ...known.map(({ stages }) => {
      const total = Object.values(stages).reduce((sum, s) => sum + s, 0);
      const own = stages[name];
      return own === undefined ? "–" : `${own.toFixed(2)} s (${Math.round((100 * own) / total)} %)`;
    }),
  ]);
  const heading = ["stage", ...known.map(({ row }) => row.name)];
  return [heading, heading.map(() => "---"), ...lines].map((cells) => `| ${cells.join(" | ")} |`).join("\n");
}

/** The whole page. */
export function resultPage(found: Found, around: Surroundings): string {
  const rows = [...found.months.map(({ row }) => row), ...found.others];
  const said = remarks(rows);
  const sections = [
    `# What a month costs, beside two peers

Made by \`${found.command}\` at commit ${around.commit}, ${around.date}.${found.complete ? "" : "\n\n**Not complete: the bench was stopped, or is still running.**"}

${[around.machine, ...around.programs].map((line) => `- ${line}`).join("\n")}

Runs of each program: ${found.repeat}, the three in turn; the table has the medians (fastest to slowest), wall seconds first.
CPU seconds are of everything that a run started. Memory is the greatest resident size of the largest process of the
run's tree (\`/usr/bin/time -v\`); each of the three does its work in one process. Exports are simulated with seed ${SEED} and had been
read once before, so they come from the machine's memory and not from its disk.`,
    `## Beside the peers

${comparisonTable(rows)}`,
    `The peers ([peers/](peers)) are scripts as an analyst would write them with those libraries: all five exports read, a slope
for each component, rates compared between environments and standards, one Weibull fit a group with Wald bounds at 95 %,
six charts, one page. **rotorwear does more in its time**: every line accounted for and checked against its neighbours,
repeats settled, lives cut at moves and removals with late entry, each number traceable to its rows, two methods with
bounds that allow for aircraft being alike and are calibrated for few components, risks at each interval of the grid,
the evidence rules and what would change them, the inputs kept for \`verify\`, some twenty pages with charts and their
numbers. Nothing of that is in the peers' seconds. **In one thing it does less**: in groups of more than 1000 components its
fits and bounds stand on whole aircraft with about 1000 of them, and the peers' Weibull fits on all; what it counts, and its
watch list, take all. In "next month" only the newest exports are new to rotorwear; the peers
keep nothing from month to month.`,
    found.growth.length === 0 ? null : `## Ten times the readings\n\n${growthTable(found.growth)}`,
    `## Where rotorwear's time goes

Wall seconds by stage of the median run, from \`OUT/log/runs.jsonl\`, of the thread that leads. Another answers groups beside it
(\`other threads\` is the wait for it), one more draws charts. Fits and bounds are made when they are first asked for, so
many of them fall under recommendations.

${stagesTable(found.months)}`,
    found.agreement.length === 0
      ? null
      : `## The same answers\n\nWeibull fits of 10,000 lives:\n\n${found.agreement.map((line) => `- ${line}`).join("\n")}`,
    said === null ? null : `## Not done, and died\n\n${said}`,
  ];
  return `${sections.filter((section) => section !== null).join("\n\n")}\n`;
}
