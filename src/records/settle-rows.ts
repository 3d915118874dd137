/** How many accepted rows of each file lie after the as-of day, and how many are used. */
import type { Day } from "../units.ts";
import type { FileLedger, ReadExports, RowColumns } from "./exports.ts";

export type SettledLedger = FileLedger & { readonly used: number; readonly afterAsOf: number };

/** Accepted = used + unassigned + after as-of, for every file. An unassigned row counts as unassigned, whatever its day. */
export function settleRows(exports: ReadExports, asOf: Day): SettledLedger[] {
  const after = new Int32Array(exports.files.length);
  const count = (columns: RowColumns | null, day: Int32Array | undefined) => {
    for (let row = 0; row < (columns?.rows ?? 0); row++) {
      if (day![row]! > asOf && columns!.unassigned[row] === 0) after[columns!.file[row]!]!++;
    }
  };
  count(exports.wear, exports.wear?.day);
  count(exports.gaps, exports.gaps?.day);
  count(exports.removals, exports.removals?.day);
  count(exports.installed, exports.installed?.installedOn);
  count(exports.flying, exports.flying?.month);
  return exports.files.map((file, i) => ({
    ...file,
    afterAsOf: after[i]!,
    used: file.accepted - file.unassigned - after[i]!,
  }));
}
