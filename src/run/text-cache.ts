/**
 * `OUT/cache/`: what was read of each export, so that the next month reads only what is new. A file stands there under its
 * key (content, settings that affect reading, the reading's version) and is checked against it; nothing else is trusted, and
 * whatever goes wrong with it costs time and no result.
 */
import { join } from "node:path";
import type { ExportSpec } from "../fleet/fleet.ts";
import { type FileTexts, readingSettings } from "../ingest/file-texts.ts";
import type { KeptTexts } from "../ingest/read-texts.ts";
import { packTexts, type TextsKey, textsFileName, unpackTexts } from "../ingest/texts-file.ts";
import type { Effects } from "./effects.ts";
import type { InputFile } from "./inputs.ts";

export const CACHE_FOLDER = "cache";

/** A file with more refused rows is read anew each time: what it says of them would be longer than itself. */
const MOST_PROBLEMS = 10_000;

/** The cache of one run. */
export class TextCache implements KeptTexts {
  readonly #output: Effects;
  readonly #folder: string;
  readonly #warn: (message: string) => void;
  readonly #hashed: ReadonlyMap<string, InputFile>;
  readonly #used = new Set<string>();
  /** Set once writing failed: a full disk isn't tried for every export. */
  #isBroken = false;

  /** @param inputs  the exports as they were hashed for this run */
  constructor(
    output: Effects,
    folder: string,
    inputs: readonly InputFile[],
    warn: (message: string) => void,
  ) {
    this.#output = output;
    this.#folder = folder;
    this.#hashed = new Map(inputs.map((input) => [inputKey(input.kind, input.file), input]));
    this.#warn = warn;
  }

  /** True where something is kept for an export; whether it is whole is seen when it is read. */
  async has(path: string, spec: ExportSpec): Promise<boolean> {
    const key = this.#keyOf(path, spec);
    return key !== null && (await this.#kindOf(textsFileName(key))) === "file";
  }

  async find(path: string, spec: ExportSpec): Promise<FileTexts | null> {
    const key = this.#keyOf(path, spec);
    if (key === null) return null;
    const name = textsFileName(key);
    if ((await this.#kindOf(name)) !== "file") return null;
    try {
      const texts = unpackTexts(await this.#output.read(join(this.#folder, name)), key);
      if (texts !== null) {
        this.#used.add(name);
        return texts;
      }
      this.#warn(`${join(this.#folder, name)} is damaged; ${path} is read again`);
    } catch (error) {
      this.#warn(`${join(this.#folder, name)} can't be used (${messageOf(error)}); ${path} is read again`);
    }
    return null;
  }

  async keep(path: string, spec: ExportSpec, texts: FileTexts): Promise<void> {
    if (this.#isBroken || texts.problems.length > MOST_PROBLEMS) return;
    const settings = readingSettings(spec);
    const name = textsFileName({ sha256: texts.sha256, settings });
    const beside = join(this.#folder, `.tmp-${this.#output.pid}-${name}`);
    const packed = packTexts(settings, texts);
    try {
      await this.#output.makeFolder(this.#folder);
      await this.#output.write(beside, packed);
      await this.#output.rename(beside, join(this.#folder, name));
      this.#used.add(name);
    } catch (error) {
      // Another file's write may have failed at the same time: it is said once.
      if (!this.#isBroken)
        this.#warn(`what was read of ${path} can't be kept for the next run: ${messageOf(error)}`);
      this.#isBroken = true;
      await this.#output.remove(beside).catch(() => {});
    }
  }

  /** Removes what this run had no use for: exports that are gone, other settings, earlier readings. */
  async prune(): Promise<void> {
    try {
      for (const name of await this.#output.list(this.#folder)) {
        if (this.#used.has(name)) continue;
        await this.#output.remove(join(this.#folder, name));
      }
    } catch (error) {
      this.#warn(`couldn't clear ${this.#folder}: ${messageOf(error)}`);
    }
  }

  #keyOf(path: string, spec: ExportSpec): TextsKey | null {
    const input = this.#hashed.get(inputKey(spec.kind, path));
    return input === undefined ? null : { sha256: input.sha256, settings: readingSettings(spec) };
  }

  async #kindOf(name: string): Promise<string> {
    // A folder that can't be looked into is as good as none.
    return this.#output.kindOf(join(this.#folder, name)).catch(() => "none");
  }
}

/** The cache of an output folder; null, and why is said, where something else stands in its place. */
export async function openTextCache(
  output: Effects,
  outFolder: string,
  inputs: readonly InputFile[],
  warn: (message: string) => void,
): Promise<TextCache | null> {
  const folder = join(outFolder, CACHE_FOLDER);
  const kind = await output.kindOf(folder);
  if (kind === "folder" || kind === "none") return new TextCache(output, folder, inputs, warn);
  warn(`${folder} is a ${kind}, not a folder: what is read is not kept; move it away, or give --no-cache`);
  return null;
}

const inputKey = (kind: string, file: string): string => `${kind}\n${file}`;

const messageOf = (error: unknown): string => (error instanceof Error ? error.message : String(error));
