/** The fleet file's section on exports: which files, how they are written, and which column is what. */
import { z } from "zod";
import { text, textOrList } from "./schema-fields.ts";

const format = z
  .strictObject({
    delimiter: z.enum([",", ";", "|", "tab"]).optional(),
    decimal: z.enum([".", ","]).optional(),
    encoding: z.enum(["utf-8", "utf-16le", "utf-16be", "windows-1252"]).optional(),
    dates: text(
      "How dates are written: yyyy, MM or MMM, dd, separators, and HH:mm or HH:mm:ss after",
    ).optional(),
  })
  .meta({ description: "How the export is written; what is left out is detected and reported" });

const exported = z
  .strictObject({
    from: z.enum(["name"]).optional(),
    pattern: text("A file name with {yyyy}, {MM} and perhaps {dd}, such as wear-{yyyy}-{MM}.csv").optional(),
    column: text("Heading of the column that says when a row was exported").optional(),
  })
  .meta({ description: "When a file was exported: { from: name, pattern: … } or { column: … }" });

const LENGTH_UNITS = ["mm", "um", "in", "thou"] as const;
const unit = z
  .union([z.enum(LENGTH_UNITS), z.strictObject({ column: text("Heading of the column with the unit") })])
  .meta({ description: "Unit of numbers that don't say theirs: mm, um, in, thou or { column: … }" });

/** Our names for the columns, by export; the first lists must be there. */
export const EXPORT_COLUMNS = {
  wear: {
    needed: ["component", "date", "hours", "wear"],
    optional: ["aircraft", "part", "position", "environment", "standard"],
  },
  gaps: {
    needed: ["date", "gap"],
    optional: ["component", "aircraft", "position", "hours", "state", "standard", "part", "environment"],
  },
  removals: {
    needed: ["component", "date", "hours", "cause"],
    optional: ["found", "finding", "aircraft", "position", "part", "environment", "standard"],
  },
  installed: {
    needed: ["component", "installed_on", "hours_at_installation"],
    optional: ["hours_now", "aircraft", "position", "part", "environment", "standard"],
  },
  flying: { needed: ["month", "aircraft", "hours"], optional: ["environment"] },
} as const;

const columns = (kind: keyof typeof EXPORT_COLUMNS) => {
  const heading = text("Heading in the export");
  const { needed, optional } = EXPORT_COLUMNS[kind];
  const shape: Record<string, z.ZodType<string | undefined, string | undefined>> = {};
  for (const name of needed) shape[name] = heading;
  for (const name of optional) shape[name] = heading.optional();
  return z.strictObject(shape).meta({ description: "Our name for a column: its heading in the export" });
};

const CLOCKS = ["since new", "since overhaul", "since fitted", "airframe"] as const;
const exportOf = (kind: keyof typeof EXPORT_COLUMNS, description: string) =>
  z
    .strictObject({
      files: textOrList("A pattern, or a list of patterns, under the fleet file's folder"),
      exported: exported.optional(),
      format: format.optional(),
      unit: unit.optional(),
      clock: z.enum(CLOCKS).optional().meta({ description: "What hours count from" }),
      columns: columns(kind),
    })
    .optional()
    .meta({ description });

const tableOf = (description: string) =>
  z
    .strictObject({
      files: textOrList("A pattern, or a list of patterns, under the fleet file's folder: CSV or Arrow"),
    })
    .optional()
    .meta({ description });

/** The section `exports`. */
export const exportsSchema = z.strictObject({
  wear: exportOf("wear", "Wear read at looks; required unless removals are given"),
  gaps: exportOf("gaps", "Seal gaps as found and as left"),
  removals: exportOf("removals", "Components taken off, with cause"),
  installed: exportOf("installed", "What is fitted where, since when"),
  flying: exportOf("flying", "Hours flown by month, aircraft and environment"),
  lives: tableOf("In place of wear, with sums: lives as a warehouse cut them (data-samples/warehouse)"),
  sums: tableOf("In place of wear, with lives: the readings of each piece of a life, summed up"),
});
