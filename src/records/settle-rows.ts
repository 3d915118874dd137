/** How many accepted rows of each file lie after the as-of day, how many have an unknown word, and how many are used. */
import type { Day } from "../units.ts";
import { type FileLedger, NO_DAY, type ReadExports, type RowColumns } from "./exports.ts";

/** `unassigned` are those up to the as-of day. */
export interface SettledLedger extends FileLedger {
  readonly used: number;
  readonly afterAsOf: number;
  /** Latest date of an accepted row up to the as-of day (a month of flying: its first); null where there is none. */
  readonly latestUpToAsOf: Day | null;
}

/**
 * Accepted = used + unassigned + after as-of, for every file. The day counts first: of a row after it nothing is known yet,
 * so an unknown word in it says nothing of the month.
 */
export function settleRows(exports: ReadExports, asOf: Day): SettledLedger[] {
  const after = new Int32Array(exports.files.length);
  const unknownAfter = new Int32Array(exports.files.length);
  const latest = new Int32Array(exports.files.length).fill(NO_DAY);
  const count = (columns: RowColumns | null, day: Int32Array | undefined) => {
    for (let row = 0; row < (columns?.rows ?? 0); row++) {
      const file = columns!.file[row]!;
      const on = day![row]!;
      if (on <= asOf) {
        if (on > latest[file]!) latest[file] = on;
        continue;
      }
      after[file]!++;
      unknownAfter[file]! += columns!.unassigned[row]!;
    }
  };
  count(exports.wear, exports.wear?.day);
  count(exports.gaps, exports.gaps?.day);
  count(exports.removals, exports.removals?.day);
  count(exports.installed, exports.installed?.installedOn);
  count(exports.flying, exports.flying?.month);
  return exports.files.map((file, i) => {
    const unassigned = file.unassigned - unknownAfter[i]!;
    const afterAsOf = after[i]!;
    return {
      ...{ ...file, unassigned, afterAsOf, used: file.accepted - unassigned - afterAsOf },
      latestUpToAsOf: latest[i] === NO_DAY ? null : latest[i]!,
    };
  });
}
