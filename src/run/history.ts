/** Earlier months as memory: the `run.json` of the month before, read or refused by name. */
import { join } from "node:path";
import { z } from "zod";
import type { Effects } from "./effects.ts";
import { sha256Of } from "./effects.ts";
import { INPUTS_FOLDER } from "./inputs.ts";
import { damageOf, readManifest } from "./manifest.ts";
import { listMonthFolders, newestRevisions } from "./month-folders.ts";

const RUN_SCHEMA = "rotorwear/run/1";
export const RUN_FILE = "run.json";

const group = { part: z.string(), environment: z.string(), standard: z.string() };

/** What `changes` needs of a run.json; the rest of it may grow without this being touched. */
const runSchema = z.object({
  schema: z.literal(RUN_SCHEMA),
  as_of: z.string(),
  program: z.string(),
  settings_sha256: z.string(),
  inputs: z.array(
    z.object({
      file: z.string(),
      kind: z.string(),
      sha256: z.string(),
      read: z.number(),
      accepted: z.number(),
    }),
  ),
  recommendations: z.array(
    z.object({
      task: z.string(),
      ...group,
      present_interval_h: z.number(),
      recommendation: z.string(),
      recommended_interval_h: z.number().nullable(),
      row: z.number(),
      governing: z.string().nullable(),
      evidence: z.array(z.object({ rule: z.string(), outcome: z.string() })),
    }),
  ),
  alerts: z.array(z.object({ part: z.string(), environment: z.string() })),
  watch_list: z.array(z.object({ ...group, serial: z.string() })),
});

export interface PreviousRun {
  readonly folder: string;
  readonly sha256: string;
  readonly content: Uint8Array;
  readonly run: z.infer<typeof runSchema>;
  /** Its fleet file, where that was kept; null: it was not. */
  readonly fleetText: string | null;
}

export type RunReading =
  | { readonly kind: "read"; readonly run: z.infer<typeof runSchema> }
  | { readonly kind: "refused"; readonly why: string };

/** Reads the text of a run.json; says why where it can't. */
export function parseRun(content: Uint8Array): RunReading {
  let value: unknown;
  try {
    value = JSON.parse(Buffer.from(content).toString("utf8"));
  } catch {
    return { kind: "refused", why: "it is damaged" };
  }
  const schema = typeof value === "object" && value !== null && "schema" in value ? value.schema : null;
  if (schema !== RUN_SCHEMA) {
    return {
      kind: "refused",
      why: `it has schema ${JSON.stringify(schema)}, and this program reads ${RUN_SCHEMA}`,
    };
  }
  const parsed = runSchema.safeParse(value);
  if (parsed.success) return { kind: "read", run: parsed.data };
  const [issue] = parsed.error.issues;
  return { kind: "refused", why: `it is damaged (${issue?.path.join(".") ?? ""}: ${issue?.message ?? ""})` };
}

/** A kept fleet file by its hash; null where it was not kept, or is not any more what it was. */
export async function keptFleetText(
  effects: Effects,
  outFolder: string,
  settingsSha256: string,
): Promise<string | null> {
  const path = join(outFolder, INPUTS_FOLDER, settingsSha256);
  if (!/^[0-9a-f]{64}$/.test(settingsSha256) || (await effects.kindOf(path)) !== "file") return null;
  const content = await effects.read(path);
  return sha256Of(content) === settingsSha256 ? Buffer.from(content).toString("utf8") : null;
}

/**
 * The newest revision of the latest month before `month` whose run.json is as it was published. A damaged one is named
 * and passed over for the one before it; null where none is left.
 */
export async function previousRun(
  effects: Effects,
  outFolder: string,
  month: string,
  onMessage: (message: string) => void,
): Promise<PreviousRun | null> {
  const earlier = newestRevisions(await listMonthFolders(effects, outFolder))
    .filter((folder) => folder.month < month)
    .reverse();
  for (const { folder } of earlier) {
    const passedOver = (why: string) =>
      onMessage(`${folder} can't be compared with: ${why}; looking further back`);
    const manifest = await readManifest(effects, join(outFolder, folder));
    if (manifest.kind !== "read") {
      passedOver(manifest.kind === "none" ? "it has no manifest" : manifest.why);
      continue;
    }
    const damage = await damageOf(effects, join(outFolder, folder), {
      ...manifest.manifest,
      files: manifest.manifest.files.filter((file) => file.path === RUN_FILE),
    });
    const hurt = damage.find((line) => line.startsWith(`${RUN_FILE} `));
    if (hurt !== undefined) {
      passedOver(`its ${hurt}`);
      continue;
    }
    const content = await effects.read(join(outFolder, folder, RUN_FILE));
    const reading = parseRun(content);
    if (reading.kind === "read") {
      const fleetText = await keptFleetText(effects, outFolder, reading.run.settings_sha256);
      return { folder, sha256: sha256Of(content), content, run: reading.run, fleetText };
    }
    passedOver(`its run.json is refused: ${reading.why}`);
  }
  return null;
}
