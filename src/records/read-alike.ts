/** Files read alike: the same kind, with the same findings about their format but for the counts in them. */
import type { FileLedger } from "./exports.ts";

export function readAlike<Ledger extends Pick<FileLedger, "kind" | "format">>(
  files: readonly Ledger[],
): readonly (readonly Ledger[])[] {
  const alike = new Map<string, Ledger[]>();
  for (const ledger of files) {
    const key = JSON.stringify([ledger.kind, ledger.format.map((line) => line.replace(/\d+/g, "#"))]);
    const group = alike.get(key);
    if (group === undefined) alike.set(key, [ledger]);
    else group.push(ledger);
  }
  return [...alike.values()];
}
