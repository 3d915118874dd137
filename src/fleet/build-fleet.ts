/** A checked fleet file, with every default filled in, as the rest of the program takes it. */
import {
  DEFAULT_ACCEPTABLE,
  DEFAULT_ALERT_WINDOW_MONTHS,
  DEFAULT_BEYOND_LIMIT_FACTOR,
  DEFAULT_EVIDENCE,
  DEFAULT_INTERVAL_STEP_H,
  DEFAULT_LARGEST_CHANGE,
  DEFAULT_MODELLED_COMPONENTS,
  DEFAULT_TOLERANCE,
} from "./defaults.ts";
import type {
  Acceptable,
  Clock,
  Decision,
  EvidenceThresholds,
  ExportedSource,
  ExportKind,
  ExportSpec,
  FieldName,
  Fleet,
  FleetWords,
  IntervalGrid,
  Part,
  Task,
} from "./fleet.ts";
import type { ExportEntry, FleetFile } from "./schema.ts";

export const EXPORT_KINDS: readonly ExportKind[] = ["wear", "gaps", "removals", "installed", "flying"];

/** The fleet of a file that passed the checks. */
export function buildFleet(file: FleetFile): Fleet {
  return {
    name: file.fleet,
    exports: exportsOf(file),
    ...tablesOf(file),
    words: wordsOf(file),
    parts: file.parts.map(partOf),
    sealGaps: (file.seal_gaps ?? []).map(({ standard, tolerance }) => ({ standard, ...tolerance })),
    tasks: file.tasks.map(taskOf),
    decisions: (file.decisions ?? []).map(decisionOf),
    reviews: file.reviews === undefined ? null : [...file.reviews].sort(),
    acceptable: acceptableOf(file.acceptable ?? {}),
    evidence: evidenceOf(file.evidence ?? {}),
    alerts: { method: "poisson", windowMonths: file.alerts?.window ?? DEFAULT_ALERT_WINDOW_MONTHS },
    intervalSteps: gridOf(file.interval_steps),
    modelledComponents: file.modelled_components ?? DEFAULT_MODELLED_COMPONENTS,
  };
}

function tablesOf({ exports: { lives, sums } }: FleetFile): Pick<Fleet, "tables"> {
  return lives === undefined || sums === undefined
    ? {}
    : { tables: { lives: lives.files, sums: sums.files } };
}

function exportsOf(file: FleetFile): Fleet["exports"] {
  const specs: Partial<Record<ExportKind, ExportSpec>> = {};
  for (const kind of EXPORT_KINDS) {
    const entry = file.exports[kind];
    if (entry === undefined) continue;
    const format = entry.format ?? {};
    specs[kind] = {
      kind,
      files: entry.files,
      exported: exportedOf(entry.exported),
      format: {
        delimiter:
          format.delimiter === undefined ? null : format.delimiter === "tab" ? "\t" : format.delimiter,
        decimal: format.decimal ?? null,
        encoding: format.encoding ?? null,
        dates: format.dates ?? null,
      },
      unit: entry.unit ?? null,
      clock: clockOf(file, kind),
      columns: columnsOf(entry),
    };
  }
  return specs;
}

/**
 * One maintenance system counts one way: what wear says (removals, where there is no wear) holds for the others, unless
 * they say otherwise.
 */
export function clockOf(file: FleetFile, kind: ExportKind): Clock {
  const main = file.exports.wear ?? file.exports.removals;
  return file.exports[kind]?.clock ?? main?.clock ?? "since new";
}

function exportedOf(exported: ExportEntry["exported"]): ExportedSource {
  if (exported?.column !== undefined) return { from: "column", column: exported.column };
  return exported?.pattern === undefined ? null : { from: "name", pattern: exported.pattern };
}

function columnsOf(entry: ExportEntry): ExportSpec["columns"] {
  const columns: Partial<Record<FieldName, string>> = {};
  for (const [name, heading] of Object.entries(entry.columns)) {
    if (heading !== undefined) columns[name as FieldName] = heading;
  }
  return columns;
}

/** Recorded words are compared trimmed. */
const wordMap = <T>(words: Readonly<Record<string, T>> | undefined): ReadonlyMap<string, T> =>
  new Map(Object.entries(words ?? {}).map(([word, meaning]) => [word.trim(), meaning]));

function wordsOf(file: FleetFile): FleetWords {
  const causes = Object.entries(file.causes ?? {}).flatMap(([mode, recorded]) =>
    recorded.map((word): [string, string] => [word, mode.trim()]),
  );
  return {
    environments: wordMap(file.environments),
    standards: wordMap(file.standards),
    gapStates: wordMap(file.gap_states),
    foundAt: wordMap(file.found_at),
    findings: wordMap(file.findings),
    wearWords: wordMap(file.wear_words),
    causes: new Map(causes),
  };
}

const partOf = (part: FleetFile["parts"][number]): Part => ({
  part: part.part,
  partNumbers: part.part_numbers ?? [],
  replaceAtMm: part.replace_at,
  replaceAtReference: part.replace_at_reference ?? null,
  unsafeAtMm: part.unsafe_at ?? null,
  beyondLimitFactor: part.beyond_limit_factor ?? DEFAULT_BEYOND_LIMIT_FACTOR,
});

const taskOf = (task: FleetFile["tasks"][number]): Task => ({
  task: task.task,
  part: task.part,
  basis: task.basis,
  reference: task.reference ?? null,
  intervalH: task.interval,
  tolerance: task.tolerance ?? DEFAULT_TOLERANCE,
  calendarMonths: task.calendar ?? null,
  exceptions: (task.except ?? []).map((exception) => ({
    environment: exception.environment ?? null,
    standard: exception.standard ?? null,
    intervalH: exception.interval,
  })),
  manHours: task.man_hours ?? null,
});

const decisionOf = (decision: NonNullable<FleetFile["decisions"]>[number]): Decision => ({
  task: decision.task,
  environment: decision.environment ?? null,
  standard: decision.standard ?? null,
  intervalH: decision.interval,
  on: decision.on,
  outcome: decision.outcome,
  reference: decision.reference ?? null,
  revisit: decision.revisit ?? null,
  promisedShare: decision.promised ?? null,
});

const acceptableOf = (acceptable: NonNullable<FleetFile["acceptable"]>): Acceptable => ({
  unsafeBeforeSeen: acceptable.unsafe_before_seen ?? DEFAULT_ACCEPTABLE.unsafeBeforeSeen,
  overLimitPerInspection: acceptable.over_limit_per_inspection ?? DEFAULT_ACCEPTABLE.overLimitPerInspection,
  functionalFailuresPer1000H:
    acceptable.functional_failures_per_1000h ?? DEFAULT_ACCEPTABLE.functionalFailuresPer1000H,
  detectionChance: acceptable.detection?.chance ?? null,
  detectionReference: acceptable.detection?.reference ?? null,
  confidence: acceptable.confidence ?? DEFAULT_ACCEPTABLE.confidence,
});

function evidenceOf(evidence: NonNullable<FleetFile["evidence"]>): EvidenceThresholds {
  return {
    minimumLives: evidence.minimum_lives ?? DEFAULT_EVIDENCE.minimumLives,
    minimumAircraft: evidence.minimum_aircraft ?? DEFAULT_EVIDENCE.minimumAircraft,
    largestAircraftShare: evidence.largest_aircraft_share ?? DEFAULT_EVIDENCE.largestAircraftShare,
    looksAtPresentInterval: evidence.looks_at_present_interval ?? DEFAULT_EVIDENCE.looksAtPresentInterval,
    presentIntervalBand: evidence.present_interval_band ?? DEFAULT_EVIDENCE.presentIntervalBand,
    componentsFollowed: evidence.components_followed ?? DEFAULT_EVIDENCE.componentsFollowed,
    aircraftFollowed: evidence.aircraft_followed ?? DEFAULT_EVIDENCE.aircraftFollowed,
    wearReadBeyondShareOfLimit:
      evidence.wear_read_beyond_share_of_limit ?? DEFAULT_EVIDENCE.wearReadBeyondShareOfLimit,
    componentsForSmallUnsafeRisk:
      evidence.components_for_small_unsafe_risk ?? DEFAULT_EVIDENCE.componentsForSmallUnsafeRisk,
    readingsComplete: evidence.readings_complete ?? DEFAULT_EVIDENCE.readingsComplete,
    earlyRemovals: evidence.early_removals ?? DEFAULT_EVIDENCE.earlyRemovals,
    nearLimitSoon: evidence.near_limit_soon ?? DEFAULT_EVIDENCE.nearLimitSoon,
    fitChange: evidence.fit_change ?? DEFAULT_EVIDENCE.fitChange,
    linesAgreeP: evidence.lines_agree_p ?? DEFAULT_EVIDENCE.linesAgreeP,
    borrowP: evidence.borrow_p ?? DEFAULT_EVIDENCE.borrowP,
    upperExponent: evidence.upper_exponent ?? DEFAULT_EVIDENCE.upperExponent,
    rejectedRows: evidence.rejected_rows ?? DEFAULT_EVIDENCE.rejectedRows,
  };
}

function gridOf(steps: FleetFile["interval_steps"]): IntervalGrid {
  if (Array.isArray(steps)) {
    const list = [...new Set(steps)].sort((a, b) => a - b);
    return { stepH: null, list, largestChange: DEFAULT_LARGEST_CHANGE };
  }
  return {
    stepH: steps?.step ?? DEFAULT_INTERVAL_STEP_H,
    list: null,
    largestChange: steps?.largest_change ?? DEFAULT_LARGEST_CHANGE,
  };
}
