/** The reductions in SQL that the guide shows, run on an embedded engine against a folder of exports. */
import { readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { type DuckDBConnection, DuckDBInstance, type Json } from "@duckdb/node-api";
import type { Fleet } from "../../src/fleet/fleet.ts";
import { shortestInterval } from "../../src/interval/fleet-lives.ts";
import { type Day, isoDate } from "../../src/units.ts";

const SQL = join(import.meta.dirname, "../../data-samples/warehouse");

/** The present interval of every group there could be, as the fleet file has it: rows.sql reads it. */
export async function writeIntervals(path: string, fleet: Fleet, asOf: Day): Promise<void> {
  const environments = new Set(fleet.words.environments.values());
  const standards = new Set(fleet.words.standards.values());
  const lines = ["part,environment,standard,interval_h"];
  for (const { part } of fleet.parts)
    for (const environment of environments)
      for (const standard of standards) {
        const interval = shortestInterval(fleet, { part, environment, standard }, asOf);
        if (interval !== null) lines.push(`${part},${environment},${standard},${interval}`);
      }
  await writeFile(path, `${lines.join("\n")}\n`);
}

/** A connection in whose tables rows, lives and sums stand, made by the files that the guide shows. */
export async function reduced(exports: string, intervals: string, asOf: Day): Promise<DuckDBConnection> {
  const instance = await DuckDBInstance.create(":memory:", { threads: "1" });
  const connection = await instance.connect();
  const parameters: Readonly<Record<string, string>> = { exports, intervals, as_of: isoDate(asOf) };
  for (const file of ["rows.sql", "lives.sql", "sums.sql"]) {
    const text = await readFile(join(SQL, file), "utf8");
    const filled = text.replaceAll(/\{(exports|intervals|as_of)\}/g, (_, name: string) => parameters[name]!);
    await connection.run(filled);
  }
  return connection;
}

/** All rows of a query, plain values. */
export async function rowsOf(connection: DuckDBConnection, query: string): Promise<Record<string, Json>[]> {
  return (await connection.runAndReadAll(query)).getRowObjectsJson();
}
