/** Which settings differ between two fleet files, named by their keys, old value and new. */
import { parse } from "yaml";

/** Keys by which the entries of a list are told apart; a list whose entries have none of them is told by position. */
const NAMES = ["part", "task", "name"] as const;

/**
 * One line for each setting that differs, such as `acceptable.confidence: 0.95 → 0.9`, in the order of the newer file, then
 * those that are gone. None where only comments, layout or the order of keys differ.
 *
 * @param before  text of a fleet file that was accepted
 * @param after   text of the present fleet file
 */
export function settingChanges(before: string, after: string): string[] {
  const old = leavesOf(parse(before));
  const lines: string[] = [];
  for (const [path, value] of leavesOf(parse(after))) {
    const was = old.get(path);
    old.delete(path);
    if (was !== value) lines.push(`${path}: ${was ?? "not given"} → ${value}`);
  }
  for (const [path, was] of old) lines.push(`${path}: ${was} → not given`);
  return lines;
}

/** Every value that is no map or list, by its path. */
function leavesOf(value: unknown): Map<string, string> {
  const leaves = new Map<string, string>();
  const visit = (path: string, at: unknown): void => {
    if (at instanceof Date || typeof at !== "object" || at === null) leaves.set(path, JSON.stringify(at));
    else if (Array.isArray(at))
      for (const [i, entry] of at.entries()) visit(`${path}[${nameOf(entry, i)}]`, entry);
    else for (const [key, inner] of Object.entries(at)) visit(path === "" ? key : `${path}.${key}`, inner);
  };
  visit("", value);
  return leaves;
}

/** An entry's own name where it has one that tells it apart; a decision repeats its task's, and goes by position. */
function nameOf(entry: unknown, position: number): string {
  if (typeof entry !== "object" || entry === null || "outcome" in entry) return String(position + 1);
  for (const key of NAMES) {
    const name = (entry as Record<string, unknown>)[key];
    if (typeof name === "string") return name;
  }
  return String(position + 1);
}
