/**
 * `npm run bench`: rotorwear and two peers on the same simulated exports, one after the other, and a table of medians.
 *
 *   npm run bench                                   everything: 100 thousand, 1 million and 10 million readings
 *   npm run bench -- --size 100k --repeat 3         one size
 */
import { writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { parseArgs } from "node:util";
import { writeLivesTables } from "./lives-tables.ts";
import { largeFleet, monthlyFleet, oneGroupFleet } from "./make-data.ts";
import { installPeers } from "./peers.ts";
import { type Found, resultPage, surroundings } from "./result.ts";
import {
  type Bench,
  demonstrationMonth,
  firstRun,
  type MonthRow,
  nextMonth,
  oneGroup,
  startingUp,
  weibullFits,
} from "./rows.ts";

/** The smallest is for trying the bench itself. */
const SIZES = { "10k": 10_000, "100k": 100_000, "1m": 1_000_000, "10m": 10_000_000 } as const;
type Size = keyof typeof SIZES;
const SIZE_NAMES: Readonly<Record<Size, string>> = {
  "10k": "10 thousand readings",
  "100k": "100 thousand readings",
  "1m": "1 million readings",
  "10m": "10 million readings",
};
const PARTS = ["first", "next", "demonstration", "help", "weibull", "group"] as const;
type Part = (typeof PARTS)[number];

const USAGE = `npm run bench -- [options]
  --size LIST           of 10k, 100k, 1m, 10m                                  default: 100k,1m,10m
  --only LIST           of ${PARTS.join(", ")}     default: all
  --repeat N            runs of each program                                   default: 3
  --limit-minutes N     a run that takes longer is stopped, and counts as died default: 60
  --work FOLDER         where data and output go; 10 m needs 5 GB              default: ${join(tmpdir(), "rotorwear-bench")}
  --result FILE         default: tests/bench/result.md`;

interface Options {
  readonly sizes: readonly Size[];
  readonly parts: ReadonlySet<Part>;
  readonly repeat: number;
  readonly limitMinutes: number;
  readonly work: string;
  readonly result: string;
}

function optionsFrom(args: readonly string[]): Options {
  const { values } = parseArgs({
    args: [...args],
    options: {
      size: { type: "string", default: "100k,1m,10m" },
      only: { type: "string", default: PARTS.join(",") },
      repeat: { type: "string", default: "3" },
      "limit-minutes": { type: "string", default: "60" },
      work: { type: "string", default: join(tmpdir(), "rotorwear-bench") },
      result: { type: "string", default: join(import.meta.dirname, "result.md") },
    },
  });
  const count = (name: "repeat" | "limit-minutes") => {
    const value = Number(values[name]);
    if (!Number.isInteger(value) || value < 1)
      throw new Error(`--${name}: expected a whole number from 1, found ${values[name]}`);
    return value;
  };
  return {
    sizes: listOf(values.size, Object.keys(SIZES) as Size[], "--size"),
    parts: new Set(listOf(values.only, PARTS, "--only")),
    repeat: count("repeat"),
    limitMinutes: count("limit-minutes"),
    work: values.work,
    result: values.result,
  };
}

/** Words of a list, in the order of those known. */
function listOf<T extends string>(text: string, known: readonly T[], option: string): T[] {
  const asked = text.toLowerCase().split(",");
  const unknown = asked.find((word) => !known.some((one) => one === word));
  if (unknown !== undefined)
    throw new Error(`${option}: expected some of ${known.join(", ")}, found ${unknown}`);
  return known.filter((word) => asked.includes(word));
}

/** Runs what was asked for; the page is written again after each row, so that a bench cut short leaves what it has. */
async function runBench(options: Options, command: string): Promise<void> {
  const say = (text: string) => console.error(text);
  const bench: Bench = {
    repeat: options.repeat,
    limitMinutes: options.limitMinutes,
    work: options.work,
    say,
  };
  const { sizes, parts } = options;
  await installPeers(say);
  const around = await surroundings();
  let found: Found = {
    command,
    repeat: options.repeat,
    months: [],
    others: [],
    growth: [],
    agreement: [],
    complete: false,
  };
  const add = async (more: Partial<Found>) => {
    found = { ...found, ...more };
    await writeFile(options.result, resultPage(found, around));
  };
  const firstRuns = new Map<Size, MonthRow>();
  for (const size of parts.has("first") ? sizes : []) {
    const fleet = await largeFleet(options.work, SIZES[size]);
    const row = await firstRun(bench, `first run, ${SIZE_NAMES[size]}`, fleet);
    firstRuns.set(size, row);
    await add({ months: [...found.months, row] });
  }
  if (parts.has("next")) {
    const size = sizes.includes("1m") ? "1m" : sizes[0]!;
    const fleets = await monthlyFleet(options.work, await largeFleet(options.work, SIZES[size]));
    await add({
      months: [...found.months, await nextMonth(bench, `next month, ${SIZE_NAMES[size]}`, fleets)],
    });
  }
  if (parts.has("demonstration")) await add({ months: [...found.months, await demonstrationMonth(bench)] });
  if (parts.has("help")) await add({ others: [...found.others, await startingUp(bench)] });
  if (parts.has("weibull")) {
    const { rows, agreement } = await weibullFits(bench, await writeLivesTables(options.work));
    await add({ others: [...found.others, ...rows], agreement });
  }
  if (parts.has("group")) {
    const fleet = await oneGroupFleet(options.work, await largeFleet(options.work, SIZES["100k"]), 500);
    await add({ others: [...found.others, await oneGroup(bench, fleet)] });
  }
  await add({ growth: growthSteps(firstRuns), complete: true });
  console.log(resultPage(found, around));
}

function growthSteps(rows: ReadonlyMap<Size, MonthRow>): Found["growth"] {
  const steps = [
    ["100k", "1m"],
    ["1m", "10m"],
  ] as const;
  return steps.flatMap(([small, large]) => {
    const [from, to] = [rows.get(small)?.row, rows.get(large)?.row];
    return from && to ? [{ name: `${SIZE_NAMES[small]} to ${SIZE_NAMES[large]}`, from, to }] : [];
  });
}

const args = process.argv.slice(2);
if (args.includes("--help")) console.log(USAGE);
else {
  try {
    await runBench(
      optionsFrom(args),
      ["npm run bench", ...(args.length > 0 ? ["--", ...args] : [])].join(" "),
    );
  } catch (error) {
    console.error(`bench: ${error instanceof Error ? error.message : String(error)}\n\n${USAGE}`);
    process.exitCode = 2;
  }
}
