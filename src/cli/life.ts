/** `rotorwear life`: Weibull lives of a table that the user has. */
import { groupLife } from "../interval/group-life.ts";
import { lifeResult } from "../life/life-result.ts";
import { lifeText } from "../life/life-text.ts";
import { parseLifeTable } from "../life/parse-life-table.ts";
import { EXIT } from "../problems.ts";
import { tableLifeCharts } from "../report/charts/table-life-chart.ts";
import { readTable, refuseProblems } from "./read-table.ts";
import type { Terminal } from "./terminal.ts";
import { wrapped } from "./wrap.ts";
import { writeSvg } from "./write-svg.ts";

interface LifeCommandOptions {
  readonly by?: string;
  readonly confidence: number;
  readonly json?: boolean;
  readonly naive?: boolean;
  readonly svg?: string;
}

/** Fits and prints; bad rows are an error, since a fit without them is not of the table given. */
export async function lifeCommand(
  path: string,
  options: LifeCommandOptions,
  terminal: Terminal,
): Promise<number> {
  const by = options.by === undefined ? {} : { by: options.by };
  const parsed = parseLifeTable(await readTable(path), { file: path, ...by });
  refuseProblems(parsed.problems, path, terminal);
  const { confidence } = options;
  const result = lifeResult(parsed.groups, { confidence, naive: options.naive === true });
  if (options.svg !== undefined) {
    const lives = parsed.groups.map(({ group, table }) => ({ group, life: groupLife(table, confidence) }));
    await writeSvg(options.svg, tableLifeCharts(lives, confidence));
    terminal.note("info", `chart written to ${options.svg}`);
  }
  terminal.result(options.json ? JSON.stringify(result, null, 2) : wrapped(lifeText(result)));
  return EXIT.done;
}
