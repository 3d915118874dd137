/** Where a component is now, as far as the roster and its last look tell. */
import { type InstalledRows, type ReadExports, type WearRows, wordAt } from "../records/exports.ts";
import type { Day } from "../units.ts";

/** Where a component has been since its last look, or since it was fitted after that. */
interface PlaceNow {
  readonly since: Day;
  /** null: not recorded. */
  readonly aircraft: string | null;
  /** The row that says so. */
  readonly table: InstalledRows | WearRows;
  readonly row: number;
  /** The roster row of that fitting; -1 where the roster tells of none there. */
  readonly roster: number;
}

/**
 * The place of a fitted component; null where no row says it.
 *
 * @param rosterRow  roster row of each component with its latest fitting, -1 where there is none
 * @param lastLook   row of its last look, -1 where it has none
 */
export function placeNow(
  { wear, installed }: ReadExports,
  rosterRow: Int32Array,
  component: number,
  lastLook: number,
): PlaceNow | null {
  const roster = rosterRow[component]!;
  const onRoster = roster < 0 ? null : wordAt(installed!.aircraft, roster);
  const isLooked = wear !== null && lastLook >= 0;
  if (roster >= 0 && (!isLooked || installed!.installedOn[roster]! >= wear.day[lastLook]!))
    return {
      since: installed!.installedOn[roster]!,
      aircraft: onRoster,
      table: installed!,
      row: roster,
      roster,
    };
  if (!isLooked) return null;
  const atLook = wordAt(wear.aircraft, lastLook);
  const isSame = atLook === null || onRoster === null || atLook === onRoster;
  return {
    since: wear.day[lastLook]!,
    aircraft: atLook ?? onRoster,
    ...{ table: wear, row: lastLook, roster: isSame ? roster : -1 },
  };
}
