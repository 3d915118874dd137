/** The demonstration fleet as files: fleet file, exports with planted faults, the truth, and the list of faults. */
import { isoDate, published } from "../units.ts";
import { DEMONSTRATION_FLEET_FILE } from "./demonstration-fleet-file.ts";
import { DEMONSTRATION_SETTINGS } from "./demonstration-settings.ts";
import { type Dialect, type ExportFile, encodeText } from "./dialect.ts";
import { type ExportPlan, partNumberOf, serialOf, tailOf, writeExports } from "./exports.ts";
import { type MaintenanceRecord, simulateMaintenance } from "./maintenance.ts";
import { plantFaults } from "./planted-faults.ts";
import type { PlantedSheet } from "./planted-lines.ts";
import type { MaintenanceSettings, PartSettings } from "./settings.ts";

const OLD_SYSTEM: Dialect = {
  delimiter: ";",
  decimal: ",",
  dates: "dd.MM.yyyy",
  encoding: "windows-1252",
  lineEnd: "\r\n",
};
const WORKSHOP: Dialect = { ...OLD_SYSTEM, decimal: ".", encoding: "utf-8" };
const TABLET: Dialect = {
  delimiter: ",",
  decimal: ".",
  dates: "yyyy-MM-dd",
  encoding: "utf-8",
  lineEnd: "\n",
};

export const DEMONSTRATION_PLAN: ExportPlan = {
  folder: "exports",
  dialects: { wear: OLD_SYSTEM, gaps: TABLET, removals: WORKSHOP, installed: OLD_SYSTEM, flying: TABLET },
  monthlyMonths: 24,
  olderFileMonths: 12,
  firstAircraft: 0,
  firstComponent: 0,
};

/**
 * Every file of the demonstration for a seed, to be written under one folder. The same seed gives the same bytes.
 * Another seed gives another fleet of the same kind, with the same kinds of faults.
 */
export function* simulateFleet(seed: number): Iterable<ExportFile> {
  const settings = DEMONSTRATION_SETTINGS;
  const record = simulateMaintenance(settings, seed);
  const { sheets, faults } = plantFaults(writeExports(record, settings.parts, DEMONSTRATION_PLAN));
  yield { path: "fleet.yaml", bytes: encodeText(DEMONSTRATION_FLEET_FILE, "utf-8") };
  for (const sheet of sheets) yield { path: sheet.path, bytes: encodeSheet(sheet) };
  yield { path: "truth.json", bytes: jsonBytes(truthOf(record, settings, seed)) };
  yield { path: "faults.json", bytes: jsonBytes(faults) };
}

function encodeSheet(sheet: PlantedSheet): Uint8Array {
  const kind = /\/([a-z]+)-/.exec(sheet.path)?.[1] as keyof ExportPlan["dialects"];
  const dialect = DEMONSTRATION_PLAN.dialects[kind];
  const text = sheet.lines.map((line) => line.text + (line.end ?? dialect.lineEnd)).join("");
  return encodeText(sheet.byteOrderMark ? `\uFEFF${text}` : text, dialect.encoding);
}

/** JSON with one line an element in lists of records, so that it stays small and a diff stays readable. */
function jsonBytes(value: unknown): Uint8Array {
  const rounded = JSON.parse(JSON.stringify(value), (_, v) => (typeof v === "number" ? published(v) : v));
  return new TextEncoder().encode(`${indented(rounded, "")}\n`);
}

function indented(value: unknown, margin: string): string {
  const flat = JSON.stringify(value);
  if (flat.length + margin.length <= 110 || typeof value !== "object" || value === null) return flat;
  const inner = `${margin} `;
  if (Array.isArray(value)) {
    const lines = value.map((element) => `${inner}${indented(element, inner)}`);
    return `[\n${lines.join(",\n")}\n${margin}]`;
  }
  const lines = Object.entries(value).map(
    ([key, element]) => `${inner}${JSON.stringify(key)}: ${indented(element, inner)}`,
  );
  return `{\n${lines.join(",\n")}\n${margin}}`;
}

/** What was true: settings, what happened group by group, every component's own effect, retrofits. */
function truthOf(record: MaintenanceRecord, settings: MaintenanceSettings, seed: number) {
  const { flying } = record;
  return {
    schema: "rotorwear/truth/1",
    seed,
    records_from: isoDate(flying.monthStart[flying.settings.recordsBeginMonth]!),
    records_to: isoDate(flying.monthStart[flying.settings.months]! - 1),
    aircraft: Array.from({ length: flying.aircraft }, (_, aircraft) => ({
      tail: tailOf(aircraft),
      effect: Number(flying.effect[aircraft]!.toFixed(5)),
      later_ring_from:
        flying.retrofitMonth[aircraft]! < 0
          ? null
          : isoDate(flying.monthStart[flying.retrofitMonth[aircraft]!]!),
    })),
    parts: settings.parts.map((part, index) => truthOfPart(record, part, index)),
  };
}

function truthOfPart(record: MaintenanceRecord, part: PartSettings, index: number) {
  const { groups, components, looks, removals } = record.parts[index]!;
  const seen = new Set([...looks, ...removals].map((row) => row.component));
  const { part: name, rates, aircraftCorrelation, shapeExponent, beyondLimitFactor, gauge, seal } = part;
  return {
    part: name,
    rates,
    aircraft_correlation: aircraftCorrelation,
    shape_exponent: shapeExponent,
    beyond_limit_factor: beyondLimitFactor,
    gauge,
    seal,
    groups: groups.map(({ hours, wearMm, ...group }) => ({
      ...group,
      hours,
      mean_rate_mm_per_1000h: (1000 * wearMm) / hours,
    })),
    components: components
      .filter(({ component }) => seen.has(component))
      .map((component) => ({
        serial: serialOf(part, component.component),
        part_number: partNumberOf(part, component.madeInMonth),
        new_wear_mm: Number(component.newWearMm.toFixed(5)),
        effect: Number(component.ownEffect.toFixed(5)),
      })),
  };
}
