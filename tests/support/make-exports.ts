/** ReadExports from a few rows as a person writes them, for tests of lives and decisions. */
import {
  FINDING,
  type FlyingRows,
  FOUND_AT,
  GAP_STATE,
  type GapRows,
  type InstalledRows,
  LOOK,
  NO_DAY,
  type ReadExports,
  type RemovalRows,
  type TextColumn,
  type WearRows,
} from "../../src/records/exports.ts";
import { dayFromIso } from "../../src/units.ts";

const LOOK_WORDS = {
  "below limit": LOOK.belowLimit,
  "over limit": LOOK.overLimit,
  unknown: LOOK.unknown,
} as const;

export interface LookInput {
  readonly serial: string;
  readonly on: string;
  readonly hours: number;
  /** A number, or the words; "unknown": a word that the fleet file doesn't know. */
  readonly wear: number | "below limit" | "over limit" | "unknown";
  readonly aircraft?: string;
  readonly environment?: string;
  readonly standard?: string;
}

export interface RemovalInput {
  readonly serial: string;
  readonly on: string;
  readonly hours: number;
  readonly mode: string;
  readonly found?: "inspection" | "service";
  readonly finding?: "confirmed" | "no fault found";
  readonly exported?: string;
  readonly aircraft?: string;
  readonly environment?: string;
}

export interface FittedInput {
  readonly serial: string;
  readonly on: string;
  readonly hours: number;
  readonly hoursNow?: number;
  readonly aircraft?: string;
  readonly environment?: string;
}

export interface GapInput {
  readonly on: string;
  /** NaN: not recorded. */
  readonly hours: number;
  readonly gap: number;
  readonly state: "found" | "left";
  /** Of the component, where the export names it. */
  readonly serial?: string;
  readonly aircraft?: string;
}

export interface FlownInput {
  /** yyyy-MM */
  readonly month: string;
  readonly aircraft?: string;
  readonly environment?: string;
  readonly hours: number;
}

export interface ExportsInput {
  readonly flown?: readonly FlownInput[];
  /** Looks and removals that were rejected. */
  readonly rejected?: Pick<ExportsInput, "looks" | "removals">;
  readonly looks?: readonly LookInput[];
  readonly removals?: readonly RemovalInput[];
  readonly fitted?: readonly FittedInput[];
  readonly gaps?: readonly GapInput[];
  /** Serials of the second part; all others are of the first. */
  readonly secondPart?: readonly string[];
}

export function makeExports(input: ExportsInput): ReadExports {
  const { looks = [], removals = [], fitted = [], gaps = [], flown = [], secondPart = [], rejected } = input;
  const aside = { looks: [], removals: [], ...rejected };
  const named = [...looks, ...removals, ...fitted, ...aside.looks, ...aside.removals];
  const serials = [...new Set(named.map(({ serial }) => serial))];
  const component = (rows: readonly { serial: string }[]) =>
    Int32Array.from(rows, ({ serial }) => serials.indexOf(serial));
  const days = (rows: readonly { on: string }[]) => Int32Array.from(rows, ({ on }) => dayOfText(on));
  const hours = (rows: readonly { hours: number }[]) => Float64Array.from(rows, (row) => row.hours);
  const common = (rows: readonly unknown[], file: number) => ({
    rows: rows.length,
    file: new Uint16Array(rows.length).fill(file),
    line: Int32Array.from(rows, (_, i) => i + 2),
    unassigned: new Uint8Array(rows.length),
  });
  const wearRows = (looks: readonly LookInput[]): WearRows => ({
    ...common(looks, 0),
    component: component(looks),
    day: days(looks),
    hours: hours(looks),
    wearMm: Float64Array.from(looks, ({ wear }) => (typeof wear === "number" ? wear : Number.NaN)),
    look: Uint8Array.from(looks, ({ wear }) => (typeof wear === "number" ? LOOK.number : LOOK_WORDS[wear])),
    aircraft: text(looks.map(({ aircraft }) => aircraft ?? "A1")),
    position: text(looks.map(() => "A")),
    environment: text(looks.map(({ environment }) => environment ?? "temperate")),
    standard: text(looks.map(({ standard }) => standard ?? "plain")),
    partNumber: text(looks.map(() => "GB-1")),
  });
  const removalRows = (removals: readonly RemovalInput[]): RemovalRows => ({
    ...common(removals, 1),
    component: component(removals),
    day: days(removals),
    hours: hours(removals),
    mode: text(removals.map(({ mode }) => mode)),
    cause: text(removals.map(({ mode }) => mode.toUpperCase())),
    found: Uint8Array.from(removals, ({ found }) => (found ? FOUND_AT[found] : FOUND_AT.unknown)),
    finding: Uint8Array.from(removals, ({ finding }) =>
      finding === undefined
        ? FINDING.none
        : finding === "confirmed"
          ? FINDING.confirmed
          : FINDING.noFaultFound,
    ),
    exported: Int32Array.from(removals, ({ exported }) =>
      exported === undefined ? NO_DAY : dayOfText(exported),
    ),
    aircraft: text(removals.map(({ aircraft }) => aircraft ?? "A1")),
    position: text(removals.map(() => "A")),
    environment: text(removals.map(({ environment }) => environment ?? "temperate")),
    standard: text(removals.map(() => "plain")),
  });
  const installed: InstalledRows = {
    ...common(fitted, 2),
    component: component(fitted),
    installedOn: days(fitted),
    hoursAtInstallation: hours(fitted),
    hoursNow: Float64Array.from(fitted, ({ hoursNow }) => hoursNow ?? Number.NaN),
    aircraft: text(fitted.map(({ aircraft }) => aircraft ?? "A1")),
    position: text(fitted.map(() => "A")),
    environment: text(fitted.map(({ environment }) => environment ?? "")),
    standard: text(fitted.map(() => "")),
  };
  const measured: GapRows = {
    ...common(gaps, 3),
    component: Int32Array.from(gaps, ({ serial }) => (serial === undefined ? -1 : serials.indexOf(serial))),
    day: days(gaps),
    hours: hours(gaps),
    gapMm: Float64Array.from(gaps, ({ gap }) => gap),
    state: Uint8Array.from(gaps, ({ state }) => GAP_STATE[state]),
    aircraft: text(gaps.map(({ aircraft }) => aircraft ?? "A1")),
    position: text(gaps.map(() => "A")),
    standard: text(gaps.map(() => "plain")),
  };
  const flying: FlyingRows = {
    ...common(flown, 3),
    month: Int32Array.from(flown, ({ month }) => dayOfText(`${month}-01`)),
    aircraft: text(flown.map(({ aircraft }) => aircraft ?? "A1")),
    environment: text(flown.map(({ environment }) => environment ?? "temperate")),
    hours: hours(flown),
  };
  return {
    files: ["wear.csv", "removals.csv", "installed.csv"].map((file, i) => ({
      file,
      kind: (["wear", "removals", "installed"] as const)[i]!,
      sha256: "0".repeat(64),
      bytes: 0,
      exported: null,
      lines: 0,
      headingLines: 1,
      blankLines: 0,
      totalsLines: 0,
      rowLines: 0,
      read: 0,
      accepted: 0,
      rejected: 0,
      identical: 0,
      superseded: 0,
      unassigned: 0,
      format: [],
    })),
    components: {
      count: serials.length,
      part: Int32Array.from(serials, (serial) => Number(secondPart.includes(serial))),
      serial: serials,
    },
    wear: looks.length > 0 ? wearRows(looks) : null,
    gaps: gaps.length > 0 ? measured : null,
    removals: removals.length > 0 ? removalRows(removals) : null,
    installed: fitted.length > 0 ? installed : null,
    flying: flown.length > 0 ? flying : null,
    setAside: { wear: wearRows(aside.looks), removals: removalRows(aside.removals), unreadRemovals: [] },
    unknownWords: [],
    latestDay: null,
  };
}

export function dayOfText(text: string): number {
  const day = dayFromIso(text);
  if (day === null) throw new Error(`not a date: ${text}`);
  return day;
}

function text(words: readonly string[]): TextColumn {
  const list = [...new Set(words.filter((word) => word !== ""))];
  return { codes: Int16Array.from(words, (word) => list.indexOf(word)), words: list };
}
