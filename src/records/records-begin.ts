/**
 * When the records begin: by aircraft, for one aircraft may have been taken over, or its base's book typed in, years
 * before the others. So one early row moves the lives of its own aircraft only.
 */
import type { Day } from "../units.ts";
import type { ReadExports, RemovalRows, TextColumn, WearRows } from "./exports.ts";
import { UNASSIGNED } from "./words.ts";

export interface RecordsBegin {
  /**
   * First day on which a look or a removal is recorded of an aircraft. Where none is recorded ("") of the rows that name
   * no aircraft but the same environment; else of all.
   */
  of(aircraft: string, environment: string): Day;
}

/** First days from all accepted looks and removals; null without a row. */
export function recordsBeginOf({ wear, removals }: ReadExports): RecordsBegin | null {
  const firstDays: FirstDays = { ofAircraft: new Map(), withoutAircraft: new Map(), ofAll: null };
  if (wear !== null) addRows(firstDays, wear);
  if (removals !== null) addRows(firstDays, removals);
  const { ofAircraft, withoutAircraft, ofAll } = firstDays;
  if (ofAll === null) return null;
  return {
    of: (aircraft, environment) =>
      (aircraft === "" ? withoutAircraft.get(environment) : ofAircraft.get(aircraft)) ?? ofAll,
  };
}

interface FirstDays {
  readonly ofAircraft: Map<string, Day>;
  /** By environment, of rows that name no aircraft. */
  readonly withoutAircraft: Map<string, Day>;
  ofAll: Day | null;
}

function addRows(firstDays: FirstDays, { rows, day, aircraft, environment }: WearRows | RemovalRows): void {
  const byAircraft = new Int32Array(aircraft.words.length).fill(NEVER);
  const byEnvironment = new Int32Array(environment.words.length).fill(NEVER);
  let first = NEVER;
  for (let row = 0; row < rows; row++) {
    const on = day[row]!;
    if (on < first) first = on;
    const its = aircraft.codes[row]!;
    const where = environment.codes[row]!;
    if (its >= 0) {
      if (on < byAircraft[its]!) byAircraft[its] = on;
    } else if (where >= 0 && on < byEnvironment[where]!) byEnvironment[where] = on;
  }
  keepEarlier(firstDays.ofAircraft, aircraft, byAircraft);
  keepEarlier(firstDays.withoutAircraft, environment, byEnvironment);
  firstDays.withoutAircraft.delete(UNASSIGNED);
  if (first < NEVER) firstDays.ofAll = Math.min(first, firstDays.ofAll ?? first);
}

const NEVER = 0x7fffffff;

function keepEarlier(known: Map<string, Day>, { words }: TextColumn, firstDays: Int32Array): void {
  for (const [code, word] of words.entries()) {
    const day = firstDays[code]!;
    if (day < NEVER && !(known.get(word)! <= day)) known.set(word, day);
  }
}
