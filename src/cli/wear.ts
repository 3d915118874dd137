/** `rotorwear wear`: wear rates of a table that the user has. */
import { wearBand } from "../interval/group-wear.ts";
import { EXIT } from "../problems.ts";
import { type TableWear, tableWearCharts } from "../report/charts/table-wear-chart.ts";
import { componentSums } from "../wear/component-sums.ts";
import { fitMixedModel } from "../wear/mixed-model.ts";
import { parseWearTable, type WearGroup } from "../wear/parse-wear-table.ts";
import { wearResult } from "../wear/wear-result.ts";
import { wearText } from "../wear/wear-text.ts";
import { readTable, refuseProblems } from "./read-table.ts";
import type { Terminal } from "./terminal.ts";
import { wrapped } from "./wrap.ts";
import { writeSvg } from "./write-svg.ts";

interface WearCommandOptions {
  readonly by?: string;
  readonly confidence: number;
  readonly limit?: number;
  readonly json?: boolean;
  readonly svg?: string;
}

/** Fits and prints; bad rows are an error, since a fit without them is not of the table given. */
export async function wearCommand(
  path: string,
  options: WearCommandOptions,
  terminal: Terminal,
): Promise<number> {
  const parsed = parseWearTable(await readTable(path), path, options.by);
  refuseProblems(parsed.problems, path, terminal);
  if (parsed.kind === "unusable") throw new Error("a table can't be unusable without a problem");
  const { confidence, limit } = options;
  const result = wearResult(parsed.groups, {
    confidence,
    ...(limit === undefined ? {} : { limitMm: limit }),
  });
  if (options.svg !== undefined) {
    const drawn = parsed.groups.map((group) => tableWear(group, confidence));
    await writeSvg(options.svg, tableWearCharts(drawn, limit ?? null));
    terminal.note("info", `chart written to ${options.svg}`);
  }
  terminal.result(options.json ? JSON.stringify(result, null, 2) : wrapped(wearText(result)));
  return EXIT.done;
}

function tableWear({ group, table }: WearGroup, confidence: number): TableWear {
  const fit = fitMixedModel(componentSums(table), confidence);
  if (fit.kind !== "fitted") return { group, table, ratePer1000H: null, band: [] };
  return { group, table, ratePer1000H: fit.rateMmPer1000Hours, band: wearBand(fit, table.hours) };
}
