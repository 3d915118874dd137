/** File patterns of the fleet file: `*` any text within a name, `?` one character, `**` any number of folders. */

/** True where a name fits a pattern segment. A leading dot must be written: `*` doesn't find hidden files. */
export function matchesName(pattern: string, name: string): boolean {
  if (name.startsWith(".") && !pattern.startsWith(".")) return false;
  const source = [...pattern]
    .map((c) => (c === "*" ? ".*" : c === "?" ? "." : c.replace(/[\\^$.+()[\]{}|]/gu, "\\$&")))
    .join("");
  return new RegExp(`^${source}$`, "su").test(name);
}

/** True where a segment needs a folder to be listed. */
export const isPattern = (segment: string): boolean => /[*?]/.test(segment);

/** The segments of a pattern, or null where it leads out of its root (absolute, a drive, `..`). */
export function patternSegments(pattern: string): readonly string[] | null {
  const path = pattern.replaceAll("\\", "/");
  if (path.startsWith("/") || /^[A-Za-z]:/.test(path)) return null;
  const segments = path.split("/").filter((segment) => segment !== "" && segment !== ".");
  return segments.includes("..") ? null : segments;
}
