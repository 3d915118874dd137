/** One fleet of the study, from its exports as text to the program's decisions, through the program's own stages. */

import type { Fleet } from "../../src/fleet/fleet.ts";
import { readFleet } from "../../src/fleet/read-fleet.ts";
import { readExports } from "../../src/ingest/read-exports.ts";
import type { ExportSource } from "../../src/ingest/source.ts";
import { type GroupEvidence, groupEvidence } from "../../src/interval/evidence.ts";
import { failureRecord } from "../../src/interval/failure-record.ts";
import { fleetLives } from "../../src/interval/fleet-lives.ts";
import { type Judgement, judge } from "../../src/interval/judge.ts";
import type { ReadExports } from "../../src/records/exports.ts";
import { livesByGroup } from "../../src/records/lives-by-group.ts";
import { encodeExport } from "../../src/simulate/dialect.ts";
import { writeExports } from "../../src/simulate/exports.ts";
import { simulateMaintenance, streamSeed } from "../../src/simulate/maintenance.ts";
import { removalTrends } from "../../src/trend/removal-trends.ts";
import { addMonths, type Day, isoMonth } from "../../src/units.ts";
import { ACCEPTABLE, DETECTION, GRID_H, PRESENT_H, type StudyFleet, settingsOf } from "./kinds.ts";

const PLAIN = {
  delimiter: ",",
  decimal: ".",
  dates: "yyyy-MM-dd",
  encoding: "utf-8",
  lineEnd: "\n",
} as const;

/** A fleet's exports, read; any report day can then be decided. */
export interface ReadStudyFleet {
  readonly fleet: Fleet;
  readonly exports: ReadExports;
  /** Report days: at the end of the record's months, and one and two years later. */
  readonly reviews: readonly Day[];
}

export async function readStudyFleet(drawn: StudyFleet, medianMmPer1000h: number): Promise<ReadStudyFleet> {
  const settings = settingsOf(drawn, medianMmPer1000h);
  const record = simulateMaintenance(settings, streamSeed(drawn.seed, 90_000));
  const months = settings.flying.months;
  const texts = writeExports(record, settings.parts, {
    folder: "exports",
    dialects: { wear: PLAIN, gaps: PLAIN, removals: PLAIN, installed: PLAIN, flying: PLAIN },
    monthlyMonths: 0,
    olderFileMonths: months,
    firstAircraft: 0,
    firstComponent: 0,
  });
  const files = new Map(texts.map(encodeExport).map(({ path, bytes }) => [path, bytes]));
  const firstReview = drawn.before + drawn.months;
  const reviews = [0, 12, 24].map((later) => addMonths(settings.flying.firstDay, firstReview + later) - 1);
  const text = fleetFile(drawn, reviews);
  const read = readFleet(text, "fleet.yaml");
  const exports = await readExports(read, memory(files), () => {});
  return { fleet: read, exports, reviews };
}

const memory = (files: ReadonlyMap<string, Uint8Array>): ExportSource => ({
  list: async (patterns) =>
    [...files.keys()].filter((path) =>
      patterns.some((pattern) => path.startsWith(pattern.replace("*.csv", ""))),
    ),
  open: async function* (path) {
    yield files.get(path)!;
  },
});

const fleetFile = ({ unsafeAt }: StudyFleet, reviews: readonly Day[]): string => `
fleet: A fleet of the simulation study
exports:
  wear:
    files: exports/wear-*.csv
    format: { delimiter: ",", decimal: ".", dates: yyyy-MM-dd, encoding: utf-8 }
    unit: mm
    clock: since new
    columns: { component: Serial, date: Inspected, hours: Hours, wear: "Wear [mm]", aircraft: Tail, position: Arm, environment: Base, standard: Ring }
  removals:
    files: exports/removals-*.csv
    format: { delimiter: ",", decimal: ".", dates: yyyy-MM-dd, encoding: utf-8 }
    clock: since new
    columns: { component: Serial, date: Removed, hours: Hours, cause: Reason, found: Found, finding: Shop finding, aircraft: Tail, position: Arm, environment: Base, standard: Ring }
  flying:
    files: exports/flying-*.csv
    format: { delimiter: ",", decimal: "." }
    columns: { month: Month, aircraft: Tail, environment: Base, hours: Hours }
environments: { Valley: temperate, Saltpan: sandy }
standards: { P: plain }
found_at: { INSP: inspection, SVC: service }
findings: { CONF: confirmed, NFF: no fault found }
wear_words: { SAT: below limit, US: over limit }
causes: { wear: [WORN, LINER WORN], seal: [SEAL LEAK], not a failure: [TIME EXPIRED, CONVENIENCE, MODIFICATION] }
parts:
  - part: grip bearing
    part_numbers: [GB-100-1]
    replace_at: 0.50 mm
    replace_at_reference: study
${unsafeAt ? "    unsafe_at: 0.80 mm\n" : ""}tasks:
  - { task: wear check, part: grip bearing, basis: programme, reference: study, interval: ${PRESENT_H} h }
reviews: [${reviews.map((day) => isoMonth(day)).join(", ")}]
acceptable:
  unsafe_before_seen: ${ACCEPTABLE.unsafeBeforeSeen}
  over_limit_per_inspection: ${ACCEPTABLE.overLimitPerInspection}
  detection: { chance: ${DETECTION}, reference: study }
interval_steps: [${GRID_H.map((hours) => `${hours} h`).join(", ")}]
`;

export interface StudyDecision {
  readonly judged: Judgement;
  readonly evidence: GroupEvidence;
}

/** The decision on the temperate group as of a day, with what was written by then; null where it has no life. */
export function decideStudyFleet({ fleet, exports }: ReadStudyFleet, asOf: Day): StudyDecision | null {
  const { lives } = fleetLives(fleet, exports, asOf);
  const [key, own] = livesByGroup(lives).find(([group]) => group.environment === "temperate") ?? [];
  if (key === undefined || own === undefined) return null;
  const { confidence, detectionChance } = fleet.acceptable;
  const evidence = groupEvidence(key, own, fleet.parts[0]!, detectionChance, confidence);
  const trends = removalTrends(exports, asOf, { windowMonths: fleet.alerts.windowMonths, confidence });
  const trend = trends.find(({ environment }) => environment === "temperate");
  const judged = judge(fleet.tasks[0]!, evidence, {
    ...{ fleet, asOf, serials: exports.components.serial },
    rows: { read: exports.wear?.rows ?? 0, rejected: 0, unassigned: 0 },
    alerts:
      trend === undefined
        ? []
        : [{ part: key.part, environment: "temperate", open: trend.alerts.open, why: null }],
    failures: failureRecord(fleet, exports, lives, asOf),
    // The study decides whether the safeguards are all there; it asks as if they were.
    safeguardsMissing: [],
  });
  return { judged, evidence };
}
