/**
 * What is timed inside one process of rotorwear, as JSON on stdout:
 *
 *   inside.ts weibull LIVES.csv TIMES     one Weibull fit of a table of lives
 *   inside.ts group FLEET.yaml TIMES      all bounds and rules for a fleet of one group: everything past reading and lives
 */
import { readFile } from "node:fs/promises";
import { basename, dirname } from "node:path";
import { readFleet } from "../../src/fleet/read-fleet.ts";
import { exportFolder } from "../../src/ingest/read-files.ts";
import { parseLifeTable } from "../../src/life/parse-life-table.ts";
import { fitWeibull } from "../../src/life/weibull-fit.ts";
import { runMonth } from "../../src/pipeline.ts";

const seconds = (since: number) => (performance.now() - since) / 1000;

async function weibull(path: string, times: number): Promise<object> {
  const { groups } = parseLifeTable(await readFile(path, "utf8"));
  const [{ table }] = groups as [(typeof groups)[number]];
  const taken: number[] = [];
  let answer: object = {};
  for (let i = 0; i < times; i++) {
    const started = performance.now();
    const fit = fitWeibull(table);
    taken.push(seconds(started));
    if (fit.kind === "none") throw new Error(fit.why);
    answer = { shape: fit.shape, scale: fit.scaleHours, log_likelihood: fit.logLikelihood };
  }
  return { seconds: taken, ...answer };
}

async function group(fleetFile: string, times: number): Promise<object> {
  const fleetText = await readFile(fleetFile, "utf8");
  const fleet = readFleet(fleetText, basename(fleetFile));
  const taken: number[] = [];
  let lives = 0;
  let groups = 0;
  for (let i = 0; i < times; i++) {
    let modelsBegan = Number.NaN;
    let before = "";
    const month = await runMonth({
      fleet,
      fleetText,
      source: exportFolder(dirname(fleetFile)),
      asOf: null,
      program: "bench",
      onProblem: () => {},
      onStage: (stage) => {
        if (before === "lives") modelsBegan = performance.now();
        before = stage;
      },
    });
    if (Number.isNaN(modelsBegan)) throw new Error("the month announced no stage after its lives");
    taken.push(seconds(modelsBegan));
    groups = month.groups.length;
    lives = month.groups.reduce((sum, one) => sum + one.lives.length, 0);
  }
  return { seconds: taken, groups, lives };
}

const [what = "", path = "", times = "1"] = process.argv.slice(2);
const run = { weibull, group }[what];
if (run === undefined) throw new Error(`expected weibull or group, found ${JSON.stringify(what)}`);
console.log(JSON.stringify(await run(path, Number(times))));
