/**
 * `npm run study`: the simulation study, or part of it.
 *
 *   npm run study                                   seeds 100001 on, 300 fleets a kind: the one that is published
 *   npm run study -- --from 1 --fleets 40           seeds for tuning (1 to 1000)
 *   npm run study -- --fleets 6 --power 10 --out D   the short one of .ci/run
 *   npm run study -- --publish                      writes the table into method.html's source and the README
 *
 * A stopped run goes on where it was. Exit code 1 where a target is missed.
 */
import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { parseArgs } from "node:util";
import { missedTargets } from "../../src/interval/study-targets.ts";
import { studyJobs } from "./jobs.ts";
import { keepSample } from "./keep-sample.ts";
import { keepTruth } from "./keep-truth.ts";
import { publishStudy } from "./publish.ts";
import { commitsOf, runJobs } from "./run-jobs.ts";
import { studyText } from "./study-text.ts";
import { studyTable } from "./summary.ts";

const { values } = parseArgs({
  options: {
    from: { type: "string", default: "100001" },
    fleets: { type: "string", default: "300" },
    power: { type: "string", default: "120" },
    processes: { type: "string", default: "2" },
    out: { type: "string", default: "reports/study" },
    runs: { type: "string", default: "1" },
    publish: { type: "boolean", default: false },
  },
});
const [from, fleets, power] = [Number(values.from), Number(values.fleets), Number(values.power)];
const jobs = studyJobs({ from, fleets, power });
const folder = join(values.out, `from-${from}`);
const lines = await runJobs(jobs, folder, Number(values.processes), (done) => {
  if (done % 50 === 0) process.stderr.write(`${done} of ${jobs.length} fleets\n`);
});
const table = studyTable(lines, {
  commit: commitsOf(folder).join(" and "),
  date: new Date().toISOString().slice(0, 10),
  seeds: `${from} to ${from + fleets - 1}`,
  runs: Number(values.runs),
});
writeFileSync(join(folder, "table.json"), `${JSON.stringify(table, null, 2)}\n`);
process.stdout.write(studyText(table));
const missed = missedTargets(table);
for (const words of missed) process.stdout.write(`MISSED: ${words}\n`);
if (values.publish) {
  publishStudy(table);
  keepTruth(folder);
  keepSample(lines);
}
process.exitCode = missed.length === 0 ? 0 : 1;
