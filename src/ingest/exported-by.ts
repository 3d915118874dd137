/** The exports as they stood on a past day: only what was exported by then. */
import type { ExportKind, ExportSpec, Fleet } from "../fleet/fleet.ts";
import type { Day } from "../units.ts";
import { exportedFromName } from "./exported-date.ts";
import type { ExportSource } from "./source.ts";

export interface ExportsThen {
  /** The fleet file without the exports of which no file was there yet. */
  readonly fleet: Fleet;
  readonly source: ExportSource;
  readonly missing: readonly ExportKind[];
  readonly files: number;
}

/**
 * The fleet file and its exports without the files that were exported after a day by their names. Rows that carry their
 * own date of export are left out by `readExports`, with `exportedBy`; where an export has no dates all of it stays, and
 * only the dates of its rows tell what was known by then.
 */
export async function exportsBy(fleet: Fleet, source: ExportSource, day: Day): Promise<ExportsThen> {
  const listed = new Map<string, readonly string[]>();
  const specs: Partial<Record<ExportKind, ExportSpec>> = {};
  const missing: ExportKind[] = [];
  let files = 0;
  for (const spec of Object.values(fleet.exports)) {
    const { exported } = spec;
    const paths = (await source.list(spec.files)).filter(
      (path) => exported?.from !== "name" || exportedFromName(path, exported.pattern).day <= day,
    );
    if (paths.length === 0) {
      missing.push(spec.kind);
      continue;
    }
    files += paths.length;
    specs[spec.kind] = spec;
    // Two exports may be read from the same files; each of them then admits what both do.
    const shared = listed.get(keyOf(spec));
    listed.set(keyOf(spec), shared === undefined ? paths : paths.filter((path) => shared.includes(path)));
  }
  return {
    fleet: { ...fleet, exports: specs },
    source: {
      list: async (patterns) => listed.get(patterns.join("\n")) ?? [],
      open: (path) => source.open(path),
    },
    missing,
    files,
  };
}

const keyOf = ({ files }: ExportSpec): string => files.join("\n");

/** Exports whose files and rows have no date of export. */
export const undatedExports = (fleet: Fleet): ExportKind[] =>
  Object.values(fleet.exports)
    .filter(({ exported }) => exported === null)
    .map(({ kind }) => kind);
