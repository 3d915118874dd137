/**
 * The manifest of a published month: what it was made from and every file in it with its hash. Written last, so that a
 * folder without one, or one whose files disagree with it, is never taken for a publication.
 */
import { join } from "node:path";
import { z } from "zod";
import { byCodeUnit, type Effects } from "./effects.ts";
import { RAISED } from "./raised.ts";

export const MANIFEST_FILE = "manifest.json";
export const MANIFEST_SCHEMA = "rotorwear/manifest/1";

const INPUT_KINDS = ["wear", "gaps", "removals", "installed", "flying", "lives", "sums"] as const;

const sha256 = z.string().regex(/^[0-9a-f]{64}$/);
const name = z.string().min(1);

const manifestSchema = z.strictObject({
  schema: z.literal(MANIFEST_SCHEMA),
  month: z.string().regex(/^\d{4}-\d{2}$/),
  as_of: z.string().regex(/^\d{4}-\d{2}-\d{2}$/),
  /** What --as-of asked for; null: the last month-end that the exports reach. */
  as_of_asked: z.string().nullable(),
  /** How many month-ends were asked for; in the manifest of a record alone. */
  months_replayed: z.number().int().positive().optional(),
  program: name,
  /** Hash of the program's own files. */
  program_sha256: sha256,
  fleet_file: z.strictObject({ file: name, sha256 }),
  inputs: z.array(
    z.strictObject({ file: name, kind: z.enum(INPUT_KINDS), sha256, bytes: z.number().int().nonnegative() }),
  ),
  /** The earlier month's run.json that `changes` was computed from. */
  previous: z.strictObject({ folder: name, sha256 }).nullable(),
  /** What this month raised, for --fail-on. */
  raised: z.array(z.enum(RAISED)),
  files: z.array(z.strictObject({ path: name, sha256, bytes: z.number().int().nonnegative() })),
});

export type Manifest = z.infer<typeof manifestSchema>;

export type ManifestReading =
  | { readonly kind: "read"; readonly manifest: Manifest }
  | { readonly kind: "none" }
  | { readonly kind: "refused"; readonly why: string };

/** A manifest as text: the same for the same content. */
export const manifestText = (manifest: Manifest): string => `${JSON.stringify(manifest, null, 2)}\n`;

/** Reads the manifest of a month's folder; never throws for what stands in it. */
export async function readManifest(effects: Effects, folder: string): Promise<ManifestReading> {
  const path = join(folder, MANIFEST_FILE);
  if ((await effects.kindOf(path)) !== "file") return { kind: "none" };
  let value: unknown;
  try {
    value = JSON.parse(Buffer.from(await effects.read(path)).toString("utf8"));
  } catch {
    return { kind: "refused", why: `${path} is damaged` };
  }
  const schema = typeof value === "object" && value !== null && "schema" in value ? value.schema : null;
  if (schema !== MANIFEST_SCHEMA) {
    return { kind: "refused", why: `${path} has schema ${JSON.stringify(schema)}, not "${MANIFEST_SCHEMA}"` };
  }
  const parsed = manifestSchema.safeParse(value);
  if (!parsed.success) return { kind: "refused", why: `${path} is damaged` };
  return { kind: "read", manifest: parsed.data };
}

/** Every file under a folder but the manifest itself, by its path with "/", in code-unit order. */
export async function filesUnder(effects: Effects, folder: string): Promise<string[]> {
  const found: string[] = [];
  const visit = async (prefix: string): Promise<void> => {
    for (const entry of await effects.list(join(folder, prefix))) {
      const path = prefix === "" ? entry : `${prefix}/${entry}`;
      if ((await effects.kindOf(join(folder, path))) === "folder") await visit(path);
      else if (path !== MANIFEST_FILE) found.push(path);
    }
  };
  await visit("");
  return found.sort(byCodeUnit);
}

/** What is wrong with a published folder against its manifest, one line each; nothing where it is whole. */
export async function damageOf(effects: Effects, folder: string, manifest: Manifest): Promise<string[]> {
  const damage: string[] = [];
  const expected = new Set(manifest.files.map((file) => file.path));
  for (const file of manifest.files) {
    const path = join(folder, file.path);
    if ((await effects.kindOf(path)) !== "file") damage.push(`${file.path} is missing`);
    else if ((await effects.digest(path)).sha256 !== file.sha256) damage.push(`${file.path} was changed`);
  }
  for (const path of await filesUnder(effects, folder)) {
    if (!expected.has(path)) damage.push(`${path} is not in the manifest`);
  }
  return damage;
}
