/** Where components are: two places at once, readings after a removal, one serial under two part numbers. */

import { FINDING, type TextColumn } from "../records/exports.ts";
import { SAME_HOURS } from "../records/same-hours.ts";
import { NOT_A_FAILURE, UNASSIGNED } from "../records/words.ts";
import { isoDate } from "../units.ts";
import { breaks, firstOnOrAfter, placeOf, type RowChecks, removedBetween, rowsOf } from "./remarks.ts";

const word = (column: TextColumn, row: number): string => column.words[column.codes[row]!] ?? "";

export function checkPlaces(checks: RowChecks): void {
  const { components } = checks.exports;
  for (let component = 0; component < components.count; component++) {
    checkLooks(checks, component);
    checkFittings(checks, component);
    checkAfterRemoval(checks, component);
    checkPartNumbers(checks, component);
  }
  checkSerials(checks);
  checkOccupied(checks);
}

/** Looks on one day on two aircraft, or at two positions. */
function checkLooks(checks: RowChecks, component: number): void {
  const wear = checks.exports.wear;
  if (checks.looks === null) return;
  const { start, order } = checks.looks;
  for (let at = start[component]! + 1; at < start[component + 1]!; at++) {
    const a = order[at - 1]!;
    const b = order[at]!;
    if (wear!.day[a] !== wear!.day[b]) continue;
    const place = (row: number): string => `${word(wear!.aircraft, row)} ${word(wear!.position, row)}`.trim();
    if (place(a) === place(b) || place(a) === "" || place(b) === "") continue;
    checks.remark({
      code: "W-TWO-PLACES",
      kind: "wear",
      row: b,
      field: "aircraft",
      expected: `${place(a)}, where it was looked at on the same day (${placeOf(checks.exports, "wear", a)})`,
      found: place(b),
    });
  }
}

/** Fitted to another aircraft or position without having been removed. */
function checkFittings(checks: RowChecks, component: number): void {
  const { installed, removals } = checks.exports;
  if (removals === null || installed === null) return;
  const rows = rowsOf(checks.installed, component);
  for (let at = 1; at < rows.length; at++) {
    const [a, b] = [rows[at - 1]!, rows[at]!];
    const place = (row: number): string =>
      `${word(installed.aircraft, row)} ${word(installed.position, row)}`.trim();
    const from = installed.installedOn[a]!;
    const to = installed.installedOn[b]!;
    const removed = removedBetween(checks, component, from, to);
    if (removed || place(a) === place(b) || place(a) === "" || place(b) === "") continue;
    checks.remark({
      code: "W-TWO-PLACES",
      kind: "installed",
      row: b,
      field: "aircraft",
      expected: `${place(a)}, where it was fitted on ${isoDate(from)} and not removed since (${placeOf(checks.exports, "installed", a)})`,
      found: `${place(b)}, fitted on ${isoDate(to)}`,
    });
  }
}

/** Two components of one part fitted in one place, the first not removed before the second was fitted. */
function checkOccupied(checks: RowChecks): void {
  const { installed, removals, components } = checks.exports;
  if (installed === null || removals === null) return;
  const last = new Map<string, number>();
  for (const row of byDay(installed.installedOn)) {
    const [aircraft, position] = [word(installed.aircraft, row), word(installed.position, row)];
    if (aircraft === "" || position === "") continue;
    const key = `${components.part[installed.component[row]!]}\0${aircraft}\0${position}`;
    const before = last.get(key);
    last.set(key, row);
    if (before === undefined || installed.component[before] === installed.component[row]) continue;
    const other = installed.component[before]!;
    const [from, to] = [installed.installedOn[before]!, installed.installedOn[row]!];
    if (removedBetween(checks, other, from, to)) continue;
    checks.remark({
      code: "W-ONE-PLACE-TWICE",
      kind: "installed",
      row,
      field: "position",
      expected: `a free place: ${components.serial[other]} was fitted there on ${isoDate(from)} and not removed since (${placeOf(checks.exports, "installed", before)})`,
      found: `${components.serial[installed.component[row]!]} on ${aircraft} ${position}, fitted on ${isoDate(to)}`,
    });
  }
}

/** Row numbers in order of day, rows of one day in order of reading. */
const byDay = (days: Int32Array): Int32Array =>
  Int32Array.from(days, (_, row) => row).sort((a, b) => days[a]! - days[b]! || a - b);

/** Read again, at hours that go on, after it was removed as failed and not fitted again. */
function checkAfterRemoval(checks: RowChecks, component: number): void {
  const { wear, removals } = checks.exports;
  if (checks.removals === null || checks.looks === null) return;
  const { looks } = checks;
  const { start, order } = checks.removals;
  for (let i = start[component]!; i < start[component + 1]!; i++) {
    const removal = order[i]!;
    const mode = word(removals!.mode, removal);
    if (mode === NOT_A_FAILURE || mode === UNASSIGNED || removals!.finding[removal] === FINDING.noFaultFound)
      continue;
    const off = removals!.day[removal]!;
    for (
      let at = firstOnOrAfter(looks, wear!.day, component, off + 1);
      at < looks.start[component + 1]!;
      at++
    ) {
      const row = looks.order[at]!;
      // Hours back near nought are the next life, and so is everything after them.
      if (
        wear!.hours[row]! < removals!.hours[removal]! - SAME_HOURS ||
        breaks(checks, component, off + 1, wear!.day[row]!)
      )
        break;
      checks.remark({
        code: "W-AFTER-REMOVAL",
        kind: "wear",
        row,
        field: "date",
        expected: `no reading after the removal (${word(removals!.cause, removal)}) on ${isoDate(off)} (${placeOf(checks.exports, "removals", removal)})`,
        found: `a reading on ${isoDate(wear!.day[row]!)} at ${wear!.hours[row]} h`,
      });
    }
  }
}

/** A part number other than the one that most of a component's looks have: told once for each. */
function checkPartNumbers(checks: RowChecks, component: number): void {
  const wear = checks.exports.wear;
  const rows = rowsOf(checks.looks, component);
  if (!differ(wear?.partNumber.codes, rows)) return;
  const first = new Map<number, { row: number; count: number }>();
  for (const row of rows) {
    const code = wear!.partNumber.codes[row]!;
    if (code < 0) continue;
    const seen = first.get(code);
    if (seen === undefined) first.set(code, { row, count: 1 });
    else seen.count++;
  }
  if (first.size < 2) return;
  const [usual, ...others] = [...first.values()].sort((a, b) => b.count - a.count || a.row - b.row);
  for (const { row } of others) {
    checks.remark({
      code: "W-TWO-PART-NUMBERS",
      kind: "wear",
      row,
      field: "part",
      expected: `${word(wear!.partNumber, usual!.row)}, as most looks at this component say (${placeOf(checks.exports, "wear", usual!.row)})`,
      found: word(wear!.partNumber, row),
      hint: (fate) => `modified, or another component? ${fate}, for the same component`,
    });
  }
}

/** Whether some rows have another code than the first. */
function differ(codes: ArrayLike<number> | undefined, rows: Int32Array): boolean {
  for (let at = 1; at < rows.length; at++) if (codes![rows[at]!] !== codes![rows[0]!]) return true;
  return false;
}

/** One serial under two parts is two components: mentioned at the first look of the second. */
function checkSerials(checks: RowChecks): void {
  const { components } = checks.exports;
  const seen = new Map<string, number>();
  for (let component = 0; component < components.count; component++) {
    const serial = components.serial[component]!;
    const other = seen.get(serial);
    if (other === undefined) seen.set(serial, component);
    const row = rowsOf(checks.looks, component)[0];
    if (other === undefined || row === undefined) continue;
    const name = (c: number): string => checks.fleet.parts[components.part[c]!]!.part;
    checks.remark({
      code: "W-TWO-PART-NUMBERS",
      kind: "wear",
      row,
      field: "component",
      expected: `a serial of one part; ${serial} is a ${name(other)} too`,
      found: `${serial}, a ${name(component)}`,
      hint: () => "mentioned only: two components with the same serial",
    });
  }
}
