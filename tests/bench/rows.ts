/** The bench's rows: what is run, by which programs, how often. */
import { cp, mkdir, readFile, rm } from "node:fs/promises";
import { join } from "node:path";
import type { LivesTables } from "./lives-tables.ts";
import { type Fleet, PROGRAM, ROOT } from "./make-data.ts";
import { type Command, type Died, type Measured, measure } from "./measure.ts";
import { faultOfPage, PEERS, type PeerName, peerMonth, peerStart, peerWeibull } from "./peers.ts";
import { type Cell, PROGRAMS, type ProgramName, type Row, type Run } from "./table.ts";

export interface Bench {
  readonly repeat: number;
  readonly limitMinutes: number;
  readonly work: string;
  readonly say: (text: string) => void;
}

/** Where a run of rotorwear spent its time, by its own log; null where the log says nothing. */
export type Stages = Readonly<Record<string, number>> | null;

/** A row, and the stages of rotorwear's median run. */
export interface MonthRow {
  readonly row: Row;
  readonly stages: Stages;
}

type Job = () => Promise<Run>;

/** Runs the programs in turn, so many times, so that a busy minute of the machine hits all of them. */
async function inTurn(
  bench: Bench,
  name: string,
  jobs: Readonly<Partial<Record<ProgramName, Job>>>,
  why: string,
): Promise<Row> {
  const runs: Record<ProgramName, Run[]> = { rotorwear: [], R: [], Python: [] };
  for (let i = 0; i < bench.repeat; i++) {
    for (const program of PROGRAMS) {
      const job = jobs[program];
      if (job === undefined) continue;
      const run = await job().catch((error: unknown): Died => ({ kind: "died", why: String(error) }));
      runs[program].push(run);
      bench.say(
        `${name}, ${program}, run ${i + 1}: ${run.kind === "died" ? `died, ${run.why}` : `${run.wallS.toFixed(3)} s`}`,
      );
    }
  }
  const cell = (program: ProgramName): Cell =>
    jobs[program] === undefined ? { kind: "not done", why } : { kind: "runs", runs: runs[program] };
  return { name, cells: { rotorwear: cell("rotorwear"), R: cell("R"), Python: cell("Python") } };
}

const report = (fleetFile: string, out: string): Command => ({
  program: process.execPath,
  args: [PROGRAM, "report", fleetFile, "--out", out, "--quiet"],
});

interface LogLine {
  readonly outcome: string;
  readonly month: string | null;
  readonly stage_seconds?: Stages;
}

async function lastLogLine(out: string): Promise<LogLine> {
  const text = await readFile(join(out, "log/runs.jsonl"), "utf8");
  return JSON.parse(text.trimEnd().split("\n").at(-1)!) as LogLine;
}

/** One month of rotorwear; a run that published nothing died, whatever its exit code. */
async function month(
  bench: Bench,
  fleet: Fleet,
  out: string,
): Promise<{ run: Measured | Died; stages: Stages }> {
  const run = await measure(report(fleet.fleetFile, out), bench.limitMinutes);
  if (run.kind === "died") return { run, stages: null };
  const { outcome, stage_seconds: stages = null } = await lastLogLine(out);
  if (outcome !== "published") return { run: { kind: "died", why: `the run says ${outcome}` }, stages: null };
  return { run, stages };
}

function peerJob(bench: Bench, peer: PeerName, fleet: Fleet): Job {
  return async () => {
    const out = join(bench.work, `out-${peer}`);
    await rm(out, { recursive: true, force: true });
    const run = await measure(peerMonth(peer, fleet.exports, out), bench.limitMinutes);
    const fault = run.kind === "died" ? null : await faultOfPage(out);
    await rm(out, { recursive: true, force: true });
    return fault === null ? run : { kind: "died", why: fault };
  };
}

/** Months of rotorwear, each into an output folder that `prepare` made, with the stages of each. */
function monthJob(bench: Bench, fleet: Fleet, prepare: (out: string) => Promise<void>) {
  const done: { wallS: number; stages: Stages }[] = [];
  const job: Job = async () => {
    const out = join(bench.work, "out-rotorwear");
    await rm(out, { recursive: true, force: true });
    await prepare(out);
    const { run, stages } = await month(bench, fleet, out);
    await rm(out, { recursive: true, force: true });
    if (run.kind === "measured") done.push({ wallS: run.wallS, stages });
    return run;
  };
  const stagesOfMedian = (): Stages =>
    done.sort((a, b) => a.wallS - b.wallS)[Math.floor((done.length - 1) / 2)]?.stages ?? null;
  return { job, stagesOfMedian };
}

const nothing = async () => {};

/** A month whose exports no run has seen. */
export async function firstRun(bench: Bench, name: string, fleet: Fleet): Promise<MonthRow> {
  const own = monthJob(bench, fleet, nothing);
  const peers = { R: peerJob(bench, "R", fleet), Python: peerJob(bench, "Python", fleet) };
  const row = await inTurn(bench, name, { rotorwear: own.job, ...peers }, "");
  return { row, stages: own.stagesOfMedian() };
}

/** The month after: only its newest exports are new. The peers keep nothing and read everything again. */
export async function nextMonth(
  bench: Bench,
  name: string,
  fleets: { before: Fleet; after: Fleet },
): Promise<MonthRow> {
  const before = join(bench.work, "out-before");
  await rm(before, { recursive: true, force: true });
  bench.say(`${name}: the month before`);
  const { run } = await month(bench, fleets.before, before);
  const own = monthJob(bench, fleets.after, (out) => cp(before, out, { recursive: true }));
  const peers = { R: peerJob(bench, "R", fleets.after), Python: peerJob(bench, "Python", fleets.after) };
  const rotorwear: Job =
    run.kind === "died" ? async () => ({ ...run, why: `the month before it: ${run.why}` }) : own.job;
  const row = await inTurn(bench, name, { rotorwear, ...peers }, "");
  await rm(before, { recursive: true, force: true });
  return { row, stages: own.stagesOfMedian() };
}

/** The demonstration, with its planted faults, into a fresh folder. */
export async function demonstrationMonth(bench: Bench): Promise<MonthRow> {
  const folder = join(ROOT, "data-samples/demonstration");
  const own = monthJob(
    bench,
    { fleetFile: join(folder, "fleet.yaml"), exports: join(folder, "exports") },
    nothing,
  );
  const why = "its exports have planted faults, and the peers check nothing";
  const row = await inTurn(bench, "demonstration month", { rotorwear: own.job }, why);
  return { row, stages: own.stagesOfMedian() };
}

/** Starting: `--help` of rotorwear, and what the peers load before they do anything. */
export function startingUp(bench: Bench): Promise<Row> {
  const help = { program: process.execPath, args: [PROGRAM, "--help"] };
  const start = (peer: PeerName) => () => measure(peerStart(peer), bench.limitMinutes);
  return inTurn(
    bench,
    "`--help` (peers: their libraries loaded)",
    { rotorwear: () => measure(help, bench.limitMinutes), R: start("R"), Python: start("Python") },
    "",
  );
}

interface Inside {
  readonly seconds: readonly number[];
}

interface WeibullAnswer extends Inside {
  readonly shape: number;
  readonly scale: number;
  readonly log_likelihood: number;
}

const inside = (...args: string[]): Command => ({
  program: process.execPath,
  args: ["--import", "tsx", join(import.meta.dirname, "inside.ts"), ...args],
  folder: ROOT,
});

const FITS = 15;

/** A Weibull fit, timed inside each process; the answers must be the same, or the row says that they are not. */
export async function weibullFits(
  bench: Bench,
  tables: LivesTables,
): Promise<{ rows: Row[]; agreement: string[] }> {
  await mkdir(bench.work, { recursive: true });
  const rows: Row[] = [];
  const agreement: string[] = [];
  for (const kind of ["right", "interval"] as const) {
    const answers = new Map<ProgramName, WeibullAnswer>();
    const job =
      (program: ProgramName, command: Command): Job =>
      async () => {
        const run = await measure(command, bench.limitMinutes);
        if (run.kind === "died") return run;
        const answer = JSON.parse(run.stdout) as WeibullAnswer;
        answers.set(program, answer);
        return insideRun(answer);
      };
    const jobs = Object.fromEntries(
      PEERS.map((peer) => [peer, job(peer, peerWeibull(peer, tables[kind], FITS))]),
    );
    const own = job("rotorwear", inside("weibull", tables[kind], `${FITS}`));
    const name = `one Weibull fit, 10,000 lives, ${kind}-censored (median of ${FITS} inside each process)`;
    rows.push(await inTurn(bench, name, { rotorwear: own, ...jobs }, ""));
    agreement.push(agreementText(kind, answers));
  }
  return { rows, agreement };
}

function insideRun({ seconds }: Inside): Run {
  const sorted = [...seconds].sort((a, b) => a - b);
  return { kind: "measured", wallS: sorted[Math.floor(sorted.length / 2)]!, cpuS: null, peakMB: null };
}

function agreementText(kind: string, answers: ReadonlyMap<ProgramName, WeibullAnswer>): string {
  const own = answers.get("rotorwear");
  const said = PEERS.map((peer) => {
    const other = answers.get(peer);
    if (own === undefined || other === undefined) return `${peer} not compared`;
    const away = Math.max(Math.abs(own.shape / other.shape - 1), Math.abs(own.scale / other.scale - 1));
    return `${peer} ${away.toExponential(0)}${away > 1e-4 ? " (**not the same fit**)" : ""}`;
  });
  return `${kind}-censored, largest relative difference of shape and scale from rotorwear's: ${said.join(", ")}`;
}

/** Everything past reading and lives for one group. */
export async function oneGroup(bench: Bench, fleet: Fleet): Promise<Row> {
  let found = "";
  const job: Job = async () => {
    const run = await measure(inside("group", fleet.fleetFile, "3"), bench.limitMinutes);
    if (run.kind === "died") return run;
    const answer = JSON.parse(run.stdout) as Inside & { groups: number; lives: number };
    found = `${answer.lives} lives in ${answer.groups} group${answer.groups === 1 ? "" : "s"}`;
    return insideRun(answer);
  };
  const row = await inTurn(bench, "one group", { rotorwear: job }, "they have no such bounds or rules");
  return {
    ...row,
    name: `all bounds and rules of one group (${found || "500 components"}; median of 3 inside the process)`,
  };
}
