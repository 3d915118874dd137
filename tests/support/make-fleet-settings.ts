/** The checked fleet file of the invented fleet that page and chart tests draw on. */
import type { Fleet } from "../../src/fleet/fleet.ts";
import { dayFromIso } from "../../src/units.ts";

const wearExport = {
  kind: "wear",
  files: ["exports/wear-*.csv"],
  exported: { from: "name", pattern: "wear-{yyyy}-{MM}.csv" },
  format: { delimiter: ";", decimal: ",", encoding: "windows-1252", dates: "dd.MM.yyyy" },
  unit: "mm",
  clock: "since new",
  columns: { component: "Serial", date: "Inspected", hours: "Hours", wear: "Wear", aircraft: "Tail" },
} as const;

export function makeFleetSettings(): Fleet {
  return {
    name: "Saltpan and Highland test fleet",
    exports: { wear: wearExport },
    words: {
      environments: new Map([
        ["Saltpan", "sandy"],
        ["Valley", "temperate"],
        ["Skerry", "coastal"],
      ]),
      standards: new Map([
        ["S", "shielded"],
        ["P", "plain"],
      ]),
      gapStates: new Map([
        ["F", "found"],
        ["L", "left"],
      ]),
      foundAt: new Map([
        ["INSP", "inspection"],
        ["SVC", "service"],
      ]),
      findings: new Map([
        ["CONF", "confirmed"],
        ["NFF", "no fault found"],
      ]),
      wearWords: new Map([
        ["SAT", "below limit"],
        ["US", "over limit"],
      ]),
      causes: new Map([
        ["WORN", "wear"],
        ["SEAL LEAK", "seal"],
        ["TIME EXPIRED", "not a failure"],
      ]),
    },
    parts: [
      {
        part: "grip bearing",
        partNumbers: ["GB-100-1", "GB-100-3"],
        replaceAtMm: 0.5,
        replaceAtReference: "maintenance data, chapter 62, table 4",
        unsafeAtMm: 0.8,
        beyondLimitFactor: 1.5,
      },
      {
        part: "hinge bushing",
        partNumbers: ["HB-7"],
        replaceAtMm: 0.3,
        replaceAtReference: null,
        unsafeAtMm: null,
        beyondLimitFactor: 1.5,
      },
    ],
    sealGaps: [
      { standard: "shielded", lowMm: 0, highMm: 1 },
      { standard: "plain", lowMm: 0, highMm: 0.8 },
    ],
    tasks: [
      {
        task: "grip bearing wear check",
        part: "grip bearing",
        basis: "programme",
        reference: "AMP-62-11, revision 4, item 3",
        intervalH: 600,
        tolerance: 0.1,
        calendarMonths: 12,
        exceptions: [{ environment: "sandy", standard: null, intervalH: 300 }],
        manHours: 14,
      },
      {
        task: "hinge bushing play check",
        part: "hinge bushing",
        basis: "airworthiness limitation",
        reference: null,
        intervalH: 400,
        tolerance: 0.1,
        calendarMonths: null,
        exceptions: [],
        manHours: null,
      },
    ],
    decisions: [
      {
        task: "grip bearing wear check",
        environment: "sandy",
        standard: null,
        intervalH: 300,
        on: dayFromIso("2023-05-01")!,
        outcome: "approved",
        reference: "AL/2023/17",
        revisit: null,
        promisedShare: null,
      },
      {
        task: "grip bearing wear check",
        environment: "temperate",
        standard: "shielded",
        intervalH: 800,
        on: dayFromIso("2025-03-12")!,
        outcome: "refused",
        reference: null,
        revisit: "20 lives over 700 h",
        promisedShare: null,
      },
    ],
    reviews: ["2026-03", "2027-03"],
    acceptable: {
      unsafeBeforeSeen: 0.001,
      overLimitPerInspection: 0.1,
      functionalFailuresPer1000H: 0.01,
      detectionChance: 0.9,
      detectionReference: "detection trial report 12",
      confidence: 0.95,
    },
    evidence: {
      minimumLives: 20,
      minimumAircraft: 5,
      largestAircraftShare: 0.4,
      looksAtPresentInterval: 60,
      presentIntervalBand: 0.15,
      componentsFollowed: 10,
      aircraftFollowed: 3,
      wearReadBeyondShareOfLimit: 0.7,
      componentsForSmallUnsafeRisk: 60,
      readingsComplete: 0.9,
      earlyRemovals: 0.2,
      nearLimitSoon: 0.1,
      fitChange: 0.2,
      linesAgreeP: 0.05,
      borrowP: 0.05,
      upperExponent: 1.2,
      rejectedRows: 0.02,
    },
    alerts: { method: "poisson", windowMonths: 12 },
    intervalSteps: { stepH: 50, list: null, largestChange: 0.5 },
    modelledComponents: 1000,
  };
}
