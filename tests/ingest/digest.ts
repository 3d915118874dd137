/** All that was read in few characters: two readings are the same where these are. */
import { createHash } from "node:crypto";

const sha256 = (content: string | Uint8Array): string => createHash("sha256").update(content).digest("hex");

const inOrder = (object: object): object =>
  Object.fromEntries(Object.entries(object).sort(([a], [b]) => (a < b ? -1 : 1)));

function plain(value: unknown): unknown {
  if (ArrayBuffer.isView(value))
    return [value.constructor.name, sha256(new Uint8Array(value.buffer, value.byteOffset, value.byteLength))];
  return typeof value === "object" && value !== null && !Array.isArray(value) ? inOrder(value) : value;
}

/** Digest of plain data and typed arrays, by their values, whatever the order of keys. */
export const digest = (value: unknown): string => sha256(JSON.stringify(value, (_, part) => plain(part)));
