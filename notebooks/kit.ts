/**
 * What a notebook has at hand: `openFleet` reads a fleet as the monthly run does, up to the groups' evidence; `show` puts
 * text, a table or a chart under the cell that called it.
 */
import { existsSync, readFileSync } from "node:fs";
import { basename, dirname, join } from "node:path";
import type { Fleet } from "../src/fleet/fleet.ts";
import { presentInterval } from "../src/fleet/intervals.ts";
import { readFleet } from "../src/fleet/read-fleet.ts";
import { readExports } from "../src/ingest/read-exports.ts";
import { exportFolder } from "../src/ingest/read-files.ts";
import { type GroupEvidence, groupEvidence } from "../src/interval/evidence.ts";
import type { ReadExports } from "../src/records/exports.ts";
import type { GroupKey, Life } from "../src/records/life.ts";
import { buildLives } from "../src/records/lives.ts";
import { livesByGroup } from "../src/records/lives-by-group.ts";
import type { Chart } from "../src/report/charts/chart.ts";
import type { TableProps } from "../src/report/table.tsx";
import { type Day, monthEnd } from "../src/units.ts";
import type { JointTable } from "../src/wear/joint-table.ts";

export type Output =
  | { readonly kind: "text"; readonly text: string }
  | { readonly kind: "table"; readonly table: TableProps }
  | { readonly kind: "chart"; readonly chart: Chart };

/** Outputs of each code cell of the notebook that runs now, by its number. */
let outputs = new Map<number, Output[]>();
let current = 0;

/** For the runner: starts a notebook afresh and gives the outputs that its cells will add. */
export function beginNotebook(): ReadonlyMap<number, readonly Output[]> {
  outputs = new Map();
  current = 0;
  return outputs;
}

/** For the runner: the cell that works from now on. */
export function beginCell(number: number): void {
  current = number;
}

/** For the runner: the cell at work; 0 before the first. */
export const cellAtWork = (): number => current;

function add(output: Output): void {
  outputs.set(current, [...(outputs.get(current) ?? []), output]);
}

/** Puts something under the cell that calls it. Text takes the markdown of the cells. */
export const show = {
  text: (text: string): void => add({ kind: "text", text }),
  table: (table: TableProps): void => add({ kind: "table", table }),
  chart: (chart: Chart): void => add({ kind: "chart", chart }),
};

/** A fleet read up to its groups. */
export interface OpenFleet {
  readonly fleet: Fleet;
  readonly exports: ReadExports;
  readonly asOf: Day;
  readonly lives: readonly Life[];
  /** Every group of the part; its fits are made when first asked for. */
  readonly groups: readonly GroupEvidence[];
}

const opened = new Map<string, Promise<OpenFleet>>();

/**
 * Reads a fleet file and its exports, as of the last month-end in them; once for all notebooks that ask for the same.
 *
 * @param part  the only part whose lives and groups are wanted
 */
export function openFleet(fleetFile: string, part: string): Promise<OpenFleet> {
  const key = JSON.stringify([fleetFile, part]);
  const known = opened.get(key);
  if (known !== undefined) return known;
  const fresh = open(fleetFile, part);
  opened.set(key, fresh);
  return fresh;
}

async function open(fleetFile: string, part: string): Promise<OpenFleet> {
  const fleet = readFleet(readFileSync(fleetFile, "utf8"), basename(fleetFile));
  if (!fleet.parts.some((one) => one.part === part)) throw new Error(`${fleetFile} has no part ${part}`);
  const exports = await readExports(fleet, exportFolder(dirname(fleetFile)), () => {});
  const { latestDay } = exports;
  if (latestDay === null) throw new Error(`${fleetFile}: its exports hold no dated row`);
  const asOf = monthEnd(latestDay) === latestDay ? latestDay : latestDay - dayOfMonth(latestDay);
  const lives = livesOf({ fleet, exports, asOf }, part);
  return { fleet, exports, asOf, lives, groups: evidenceOf(fleet, lives) };
}

/** Lives of one part, with the limits of this fleet: give a changed fleet to see what other limits make of the rows. */
export function livesOf({ fleet, exports, asOf }: Omit<OpenFleet, "lives" | "groups">, part: string): Life[] {
  const { lives } = buildLives(exports, {
    asOf,
    parts: fleet.parts,
    airframeClock: fleet.exports.wear?.clock === "airframe",
    presentIntervalH: (key) => presentIntervalOf(fleet, key, asOf),
  });
  return lives.filter(({ group }) => group.part === part);
}

const dayOfMonth = (day: Day): number => new Date(day * 86_400_000).getUTCDate();

/** The shortest interval in force for a group; null where no task covers its part. */
export function presentIntervalOf(fleet: Fleet, key: GroupKey, asOf: Day): number | null {
  const intervals = fleet.tasks
    .filter(({ part }) => part === key.part)
    .map((task) => presentInterval(fleet, task, key.environment, key.standard, asOf).intervalH);
  return intervals.length === 0 ? null : Math.min(...intervals);
}

/** Evidence of each group of some lives, with this fleet's limits, detection chance and confidence. */
export const evidenceOf = (fleet: Fleet, lives: readonly Life[]): GroupEvidence[] =>
  livesByGroup(lives).map(([key, own]) => {
    const part = fleet.parts.find((one) => one.part === key.part)!;
    return groupEvidence(key, own, part, fleet.acceptable.detectionChance, fleet.acceptable.confidence);
  });

/** "sandy, plain" */
export const nameOf = ({ environment, standard }: GroupKey): string => `${environment}, ${standard}`;

/** Readings of several groups in one table for the joint model: each component's hours all in its own group. */
export function jointTableOf(groups: readonly GroupEvidence[]): JointTable {
  const environments = [...new Set(groups.map(({ key }) => key.environment))];
  const standards = [...new Set(groups.map(({ key }) => key.standard))];
  const tails = new Map<string, number>();
  const rows = groups.flatMap(({ key, readings }, group) =>
    readings.lives.flatMap((life, index) => {
      // A life whose aircraft isn't recorded stands alone.
      const tail = life.aircraft === "" ? `alone ${group} ${index}` : life.aircraft;
      if (!tails.has(tail)) tails.set(tail, tails.size);
      return life.readingHours.map((hours, at) => ({
        component: `${group} ${index}`,
        aircraft: tails.get(tail)!,
        standard: standards.indexOf(key.standard),
        environment: environments.indexOf(key.environment),
        hours,
        wearMm: life.readingWearMm[at]!,
      }));
    }),
  );
  const components = new Map([...new Set(rows.map(({ component }) => component))].map((id, at) => [id, at]));
  return {
    rows: rows.length,
    component: Int32Array.from(rows, ({ component }) => components.get(component)!),
    aircraft: Int32Array.from(rows, ({ aircraft }) => aircraft),
    standard: Int32Array.from(rows, ({ standard }) => standard),
    hoursIn: environments.map((_, environment) =>
      Float64Array.from(rows, (row) => (row.environment === environment ? row.hours : 0)),
    ),
    wearMm: Float64Array.from(rows, ({ wearMm }) => wearMm),
    environments,
    standards,
  };
}

/** What truly happened in an invented fleet; null where the exports are of a real one. */
export interface Truth {
  readonly parts: readonly {
    readonly part: string;
    readonly rates: readonly {
      readonly environment: string;
      readonly standard: string;
      readonly medianMmPer1000h: number;
      readonly logSd: number;
    }[];
  }[];
}

/** The truth that `simulate` writes beside a fleet file; null beside any other. */
export function truthBeside(fleetFile: string): Truth | null {
  const path = join(dirname(fleetFile), "truth.json");
  return existsSync(path) ? (JSON.parse(readFileSync(path, "utf8")) as Truth) : null;
}
