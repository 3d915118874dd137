/** From the text of a fleet file to checked settings, or one error that says all that is wrong with it. */
import { buildFleet } from "./build-fleet.ts";
import { checkFleet } from "./check-fleet.ts";
import type { Fleet } from "./fleet.ts";
import { fleetError, problemsOfIssues } from "./fleet-problems.ts";
import { fleetSchema } from "./schema.ts";
import { fleetJsonSchema, type JsonSchema, keysAt } from "./schema-json.ts";
import { type Path, readYaml } from "./yaml-source.ts";

/**
 * The settings of a fleet file.
 *
 * @param text      the file's text (UTF-8, with or without byte-order mark)
 * @param fileName  as messages shall name it
 * @throws UsageError E-FLEET naming file, line, key, what was expected, what was found and what to do; one line a
 *   problem. Names and combinations are looked at only once every key has the right shape.
 */
export function readFleet(text: string, fileName: string): Fleet {
  const reading = readYaml(text.replace(/^\uFEFF/, ""));
  if (reading.kind === "problems") throw fleetError(fileName, reading.problems);
  const { source } = reading;
  const parsed = fleetSchema.safeParse(source.value);
  if (!parsed.success) {
    const problems = problemsOfIssues(parsed.error.issues, source, validKeys);
    throw fleetError(fileName, problems);
  }
  const problems = checkFleet(parsed.data, source);
  if (problems.length > 0) throw fleetError(fileName, problems);
  return buildFleet(parsed.data);
}

/** The schema is the same every time, and takes longer to write out than a fleet file to read. */
let schema: JsonSchema | null = null;

function validKeys(path: Path): readonly string[] {
  schema ??= fleetJsonSchema();
  return keysAt(schema, path);
}
