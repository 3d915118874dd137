/** `rotorwear check`: what the exports hold, as the monthly run would read them; publishes nothing. */
import { basename, dirname } from "node:path";
import { readFleet } from "../fleet/read-fleet.ts";
import { readExports } from "../ingest/read-exports.ts";
import { exportFolder } from "../ingest/read-files.ts";
import { lastMonthEnd } from "../interval/reported-day.ts";
import { EXIT } from "../problems.ts";
import { fileEffects } from "../run/effects.ts";
import { readFleetFile } from "../run/read-fleet-file.ts";
import { isoDate, isoMonth } from "../units.ts";
import { type Checked, checkText } from "./check-text.ts";
import { checkedJoins } from "./checked-joins.ts";
import { problemGroups } from "./problem-groups.ts";
import { refuseTables } from "./refuse-tables.ts";
import type { Terminal } from "./terminal.ts";

interface CheckCommandOptions {
  readonly exports?: string;
  readonly files?: boolean;
  readonly json?: boolean;
}

const EXAMPLES = 3;

/** Reads everything and says what was found. Throws as the monthly run would (exit 2, 3). */
export async function checkCommand(
  fleetFile: string,
  options: CheckCommandOptions,
  terminal: Terminal,
): Promise<number> {
  const text = Buffer.from(await readFleetFile(fileEffects, fleetFile)).toString("utf8");
  const fleet = readFleet(text, basename(fleetFile));
  refuseTables(fleet, fleetFile, "check");
  const problems = problemGroups(EXAMPLES);
  const source = exportFolder(options.exports ?? dirname(fleetFile));
  const read = await readExports(fleet, source, problems.add);
  const joins = read.latestDay === null ? null : checkedJoins(fleet, read, lastMonthEnd(read.latestDay));
  const checked: Checked = { fleet: fleet.name, read, groups: problems.list(), joins };
  terminal.result(
    options.json ? JSON.stringify(checkJson(checked), null, 2) : checkText(checked, options.files === true),
  );
  // What was found is said first: it shows why there is nothing to report.
  const asOf = lastMonthEnd(read.latestDay);
  if (!options.json)
    terminal.result(
      `\nlatest date ${isoDate(read.latestDay!)}: a report would be of ${isoMonth(asOf)}. Nothing was published.`,
    );
  return EXIT.done;
}

function checkJson({ read, groups, joins }: Checked): unknown {
  return {
    schema: "rotorwear/check/1",
    files: read.files,
    problems: groups.map(({ code, count, files, examples }) => ({
      code,
      count,
      files: Object.fromEntries(files),
      examples,
    })),
    unknown_words: read.unknownWords,
    components: read.components.count,
    latest_date: read.latestDay === null ? null : isoDate(read.latestDay),
    month: read.latestDay === null ? null : isoMonth(lastMonthEnd(read.latestDay)),
    joins: joins === null ? null : { ...joins, asOf: isoDate(joins.asOf) },
  };
}
