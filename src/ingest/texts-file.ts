/**
 * A file's texts as bytes to be kept: two Arrow streams (the rows as codes, the distinct texts), and a SHA-256 of both at
 * the end. Everything else stands as JSON in the first one's metadata.
 */
import { createHash } from "node:crypto";
import {
  batchType,
  Column,
  type IntType,
  int8,
  int16,
  int32,
  type Table,
  tableFromColumns,
  tableFromIPC,
  tableToIPC,
  utf8,
} from "@uwdata/flechette";
import type { PackedTexts } from "./byte-texts.ts";
import type { FileTexts, TextCodes } from "./file-texts.ts";
import { READING_VERSION } from "./reading-version.ts";

const SCHEMA = "rotorwear/texts/1";
const DIGEST_BYTES = 32;

/** What decides a file's texts: nothing kept under another key may stand for them. */
export interface TextsKey {
  readonly sha256: string;
  /** `readingSettings` of its export. */
  readonly settings: string;
}

interface Kept extends Omit<FileTexts, "line" | "columns"> {
  readonly schema: string;
  readonly reading: number;
  readonly settings: string;
  /** Bytes and number of the distinct texts of each column. */
  readonly texts: readonly { readonly count: number; readonly bytes: number }[];
}

/** Name of the file that keeps the texts of a key: it is another one for other bytes, settings or reading. */
export const textsFileName = ({ sha256, settings }: TextsKey): string =>
  `${createHash("sha256")
    .update(JSON.stringify([SCHEMA, READING_VERSION, sha256, settings]))
    .digest("hex")}.arrow`;

/** Texts to bytes. */
export function packTexts(settings: string, { line, columns, ...about }: FileTexts): Uint8Array {
  const kept: Kept = {
    ...about,
    schema: SCHEMA,
    reading: READING_VERSION,
    settings,
    texts: columns.map(({ texts }) => ({ count: texts.ends.length, bytes: texts.bytes.length })),
  };
  const rows = tableFromColumns([
    ["line", numberColumn(line, int32())],
    ...columns.map(({ codes, texts }, k): [string, Column<number>] => [
      `${k} ${about.heading.columns[k]!.role}`,
      narrowed(codes, texts.ends.length),
    ]),
  ]);
  rows.schema.metadata = new Map([["rotorwear", JSON.stringify(kept)]]);
  const parts = [ipc(rows), ipc(tableFromColumns([["text", textColumn(columns.map(({ texts }) => texts))]]))];
  const lengths = new Uint8Array(Float64Array.from(parts, ({ length }) => length).buffer);
  const hash = createHash("sha256");
  for (const part of [...parts, lengths]) hash.update(part);
  return Buffer.concat([...parts, lengths, hash.digest()]);
}

/**
 * Bytes back to texts; null where they are not what was kept under that key: damaged, of another program, for another
 * file, with other settings.
 */
export function unpackTexts(bytes: Uint8Array, key: TextsKey): FileTexts | null {
  const lengthsAt = bytes.length - DIGEST_BYTES - 16;
  if (lengthsAt < 0) return null;
  const digest = createHash("sha256").update(bytes.subarray(0, -DIGEST_BYTES)).digest();
  if (!digest.equals(bytes.subarray(-DIGEST_BYTES))) return null;
  const [rowsLength] = new Float64Array(new Uint8Array(bytes.subarray(lengthsAt, lengthsAt + 16)).buffer);
  // Whole by its digest, so what follows can only fail on a file that another program wrote, or a bug of this one.
  const rows = tableFromIPC(aligned(bytes, 0, rowsLength!));
  const kept = keptOf(rows);
  if (kept?.reading !== READING_VERSION || kept.sha256 !== key.sha256 || kept.settings !== key.settings)
    return null;
  const all = packedTexts(tableFromIPC(aligned(bytes, rowsLength!, lengthsAt)));
  const { sha256, bytes: size, heading, counts, format, problems } = kept;
  let first = 0;
  const columns = kept.texts.map(({ count }, k): TextCodes => {
    const texts = cut(all, first, first + count);
    first += count;
    return { codes: new Int32Array(valuesOf(rows.children[k + 1]!)), texts };
  });
  const line = new Int32Array(valuesOf(rows.children[0]!));
  return { sha256, bytes: size, heading, counts, format, problems, rows: kept.rows, line, columns };
}

function ipc(table: Table): Uint8Array {
  const bytes = tableToIPC(table, { format: "stream" });
  if (bytes === null) throw new Error("an Arrow table without a sink gave no bytes");
  return bytes;
}

/** The bytes [from, to) where typed arrays can be laid over them: at a multiple of eight, else copied. */
function aligned(bytes: Uint8Array, from: number, to: number): Uint8Array {
  const part = bytes.subarray(from, to);
  return part.byteOffset % 8 === 0 ? part : new Uint8Array(part);
}

/** Codes in as few bits as the number of texts allows. */
function narrowed(codes: Int32Array, texts: number): Column<number> {
  if (texts < 2 ** 7) return numberColumn(new Int8Array(codes), int8());
  if (texts < 2 ** 15) return numberColumn(new Int16Array(codes), int16());
  return numberColumn(codes, int32());
}

/** The values as they lie in memory; the library's own way goes through them one by one. */
function numberColumn(values: Int8Array | Int16Array | Int32Array, type: IntType): Column<number> {
  const Batch = batchType(type);
  const validity = new Uint8Array(0);
  return new Column([new Batch({ length: values.length, nullCount: 0, type, validity, values })]);
}

function textColumn(columns: readonly PackedTexts[]): Column<string> {
  const length = columns.reduce((sum, { ends }) => sum + ends.length, 0);
  const offsets = new Int32Array(length + 1);
  let at = 0;
  let start = 0;
  for (const { bytes, ends } of columns) {
    for (const end of ends) offsets[++at] = start + end;
    start += bytes.length;
  }
  const type = utf8();
  const values = Buffer.concat(columns.map(({ bytes }) => bytes));
  const Batch = batchType(type);
  return new Column([
    new Batch({ length, nullCount: 0, type, validity: new Uint8Array(0), values, offsets }),
  ]);
}

function keptOf(rows: Table): Kept | null {
  const kept = JSON.parse(rows.schema.metadata?.get("rotorwear") ?? "null") as Kept | null;
  return kept?.schema === SCHEMA ? kept : null;
}

const NONE = new Int32Array(0);

/** A table without rows has no batch at all. */
const valuesOf = (column: Column<unknown>): ArrayLike<number> =>
  (column.data[0]?.values as ArrayLike<number> | undefined) ?? NONE;

interface AllTexts {
  readonly bytes: Uint8Array;
  readonly offsets: Int32Array;
}

function packedTexts(table: Table): AllTexts {
  const batch = table.children[0]!.data[0];
  if (batch === undefined) return { bytes: new Uint8Array(0), offsets: new Int32Array(1) };
  return { bytes: batch.values as Uint8Array, offsets: batch.offsets as Int32Array };
}

/** Texts from one number to another, with places of their own. */
function cut({ bytes, offsets }: AllTexts, from: number, to: number): PackedTexts {
  const start = offsets[from]!;
  const ends = new Int32Array(offsets.subarray(from + 1, to + 1));
  for (let k = 0; k < ends.length; k++) ends[k]! -= start;
  return { bytes: new Uint8Array(bytes.subarray(start, offsets[to]!)), ends };
}
