/**
 * The demonstration operator: surveys and supply between salt pans, a coast, highlands and a temperate valley.
 *
 * All of it is invented. The true rates are chosen so that every answer of the decision table is earned somewhere:
 * see the comments on the rates.
 */
import { dayOf } from "../units.ts";
import {
  DEFAULT_FLYING,
  DEFAULT_GAUGE,
  DEFAULT_LOOKS,
  DEFAULT_PART,
  DEFAULT_REMOVALS,
  type FlyingSettings,
  type IntervalRule,
  type MaintenanceSettings,
  type PartSettings,
} from "./settings.ts";

export const DEMONSTRATION_SEED = 668;

const FIRST_YEAR = 2012;
const FIRST_MONTH = 10;

/** Months since the first simulated one, October 2012. */
export const monthNumber = (year: number, month: number): number =>
  (year - FIRST_YEAR) * 12 + month - FIRST_MONTH;

const FLYING: FlyingSettings = {
  ...DEFAULT_FLYING,
  firstDay: dayOf(FIRST_YEAR, FIRST_MONTH, 1)!,
  months: monthNumber(2026, 10),
  recordsBeginMonth: monthNumber(2020, 10),
  firstStandard: "plain",
  bases: [
    {
      base: "Valley",
      environment: "temperate",
      aircraft: 42,
      hoursPerMonth: 36,
      initialShare: { shielded: 0.6 },
    },
    { base: "Saltpan North", environment: "sandy", aircraft: 20, hoursPerMonth: 40 },
    { base: "Saltpan South", environment: "sandy", aircraft: 14, hoursPerMonth: 36 },
    { base: "Coast", environment: "coastal", aircraft: 26, hoursPerMonth: 45 },
    {
      base: "Highland",
      environment: "highland",
      aircraft: 14,
      hoursPerMonth: 35,
      initialShare: { shielded: 0.29 },
    },
  ],
  retrofits: [
    // Worst first: the salt pans from May 2022; at the coast only two trial aircraft so far.
    {
      standard: "shielded",
      environment: "sandy",
      fromMonth: monthNumber(2022, 5),
      aircraftPerMonth: 1,
      aircraft: 14,
      newComponentShare: 0.6,
    },
    {
      standard: "shielded",
      environment: "coastal",
      fromMonth: monthNumber(2026, 2),
      aircraftPerMonth: 1,
      aircraft: 2,
      newComponentShare: 0.5,
    },
  ],
  plannedMoves: [
    // Work moves towards the salt pans over the years; one highland aircraft spends a year at the coast.
    { aircraft: 3, month: monthNumber(2021, 4), base: "Saltpan North" },
    { aircraft: 7, month: monthNumber(2023, 3), base: "Coast" },
    { aircraft: 11, month: monthNumber(2025, 6), base: "Saltpan North" },
    { aircraft: 79, month: monthNumber(2024, 2), base: "Saltpan South" },
    { aircraft: 84, month: monthNumber(2024, 8), base: "Saltpan North" },
    { aircraft: 105, month: monthNumber(2021, 7), base: "Coast" },
    { aircraft: 105, month: monthNumber(2022, 7), base: "Highland" },
    { aircraft: 110, month: monthNumber(2026, 1), base: "Valley" },
  ],
};

const GRIP_INTERVALS: readonly IntervalRule[] = [
  { intervalHours: 300, untilMonth: monthNumber(2022, 6) },
  { intervalHours: 400, fromMonth: monthNumber(2022, 6) },
  { environment: "sandy", intervalHours: 300, untilMonth: monthNumber(2023, 5) },
  { environment: "sandy", intervalHours: 200, fromMonth: monthNumber(2023, 5) },
  { environment: "coastal", intervalHours: 300 },
];

const GRIP_BEARING: PartSettings = {
  ...DEFAULT_PART,
  part: "grip bearing",
  positions: ["A", "B", "C", "D"],
  partNumbers: [
    { partNumber: "GB-100-1", fromMonth: 0 },
    { partNumber: "GB-100-3", fromMonth: monthNumber(2021, 9) },
  ],
  serialPrefix: "",
  replaceAtMm: 0.5,
  unsafeAtMm: 0.8,
  failureMarginMm: 0.08,
  beyondLimitFactor: 1.3,
  rates: [
    // Extend: slow, and seen long enough.
    { environment: "temperate", standard: "shielded", medianMmPer1000h: 0.052, logSd: 0.22 },
    // True risk holds at 400 h, not at 450 h; 14 aircraft are too few to demonstrate it.
    { environment: "temperate", standard: "plain", medianMmPer1000h: 0.085, logSd: 0.22 },
    // Shorten, established: grit, and a ring that lets it in.
    { environment: "sandy", standard: "plain", medianMmPer1000h: 0.6, logSd: 0.5 },
    // The shielded ring brings it back to about what 200 h can bear.
    { environment: "sandy", standard: "shielded", medianMmPer1000h: 0.14, logSd: 0.22 },
    // Shorten by the best estimate.
    { environment: "coastal", standard: "plain", medianMmPer1000h: 0.125, logSd: 0.25 },
    // Too few: two aircraft since this year.
    { environment: "coastal", standard: "shielded", medianMmPer1000h: 0.09, logSd: 0.22 },
    // A little under, with few aircraft: about at the edge.
    { environment: "highland", standard: "plain", medianMmPer1000h: 0.08, logSd: 0.25 },
    // Not demonstrated: four aircraft.
    { environment: "highland", standard: "shielded", medianMmPer1000h: 0.07, logSd: 0.22 },
  ],
  aircraftCorrelation: 0.3,
  intervals: GRIP_INTERVALS,
  gauge: { ...DEFAULT_GAUGE, detectionChance: 0.9, wordsOnlyShare: 0.025 },
  looks: { ...DEFAULT_LOOKS, overlookedShare: 0.005 },
  removals: {
    ...DEFAULT_REMOVALS,
    deferredShare: 0.03,
    cautiousChance: 0.03,
    cautiousFromShare: 0.94,
  },
  seal: {
    toleranceMm: { shielded: 1 },
    setGapMm: 0.45,
    setScatterMm: 0.1,
    driftMmPer1000h: 1,
    driftLogSd: 0.7,
    adjustShare: 0.8,
    gaugeScatterMm: 0.02,
    wearFactor: { sandy: 2.4, coastal: 1.4, highland: 1.2 },
  },
};

const LINK_BEARING: PartSettings = {
  ...DEFAULT_PART,
  part: "link bearing",
  positions: ["A", "B", "C", "D"],
  partNumbers: [{ partNumber: "LB-220-1", fromMonth: 0 }],
  serialPrefix: "LB",
  replaceAtMm: 0.3,
  unsafeAtMm: null,
  rates: [
    { environment: "temperate", standard: "shielded", medianMmPer1000h: 0.045, logSd: 0.25 },
    { environment: "temperate", standard: "plain", medianMmPer1000h: 0.055, logSd: 0.25 },
    { environment: "sandy", standard: "plain", medianMmPer1000h: 0.21, logSd: 0.3 },
    { environment: "sandy", standard: "shielded", medianMmPer1000h: 0.11, logSd: 0.25 },
    { environment: "coastal", standard: "plain", medianMmPer1000h: 0.075, logSd: 0.25 },
    { environment: "coastal", standard: "shielded", medianMmPer1000h: 0.06, logSd: 0.25 },
    { environment: "highland", standard: "plain", medianMmPer1000h: 0.06, logSd: 0.25 },
    { environment: "highland", standard: "shielded", medianMmPer1000h: 0.05, logSd: 0.25 },
  ],
  intervals: [{ intervalHours: 300 }, { environment: "sandy", intervalHours: 150 }],
  gauge: { ...DEFAULT_GAUGE, scatterMm: 0.01, detectionChance: 0.95, wordsOnlyShare: 0.02 },
  looks: DEFAULT_LOOKS,
  removals: { ...DEFAULT_REMOVALS, sealLeakPer1000h: 0, lifeLimitHours: 6000 },
};

export const DEMONSTRATION_SETTINGS: MaintenanceSettings = {
  flying: FLYING,
  parts: [GRIP_BEARING, LINK_BEARING],
};
