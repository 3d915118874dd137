/** When a file was exported, from its name: patterns such as "wear-{yyyy}-{MM}.csv". */
import { UsageError } from "../problems.ts";
import { type Day, dayOf, monthEnd } from "../units.ts";

const TOKENS: Readonly<Record<string, string>> = {
  yyyy: "(?<yyyy>\\d{4})",
  MM: "(?<MM>\\d{2})",
  dd: "(?<dd>\\d{2})",
  HH: "\\d{2}",
  mm: "\\d{2}",
  ss: "\\d{2}",
};

export interface ExportedDay {
  /** Day of export, as far as the name tells: what decides between two exports. */
  readonly day: Day;
  /**
   * Latest date that a row of it can have. The export of a month is often made some days into the next; an exact day
   * leaves one day for time zones.
   */
  readonly latestRow: Day;
}

/** A pattern as the source of a regular expression; a token that comes again must read the same. */
function patternSource(pattern: string): string {
  const named = new Set<string>();
  return pattern.replace(/\{(\w+)\}|[\s\S]/g, (text, token: string | undefined) => {
    const group = token === undefined ? undefined : TOKENS[token];
    if (token !== undefined && group !== undefined) {
      if (named.has(token) && group.startsWith("(")) return `\\k<${token}>`;
      named.add(token);
      return group;
    }
    if (text === "*") return ".*";
    if (text === "?") return ".";
    return text.replace(/[\\^$.+()[\]{}|]/g, "\\$&");
  });
}

/**
 * Day of export of a file; a pattern without {dd} means the month's last day.
 *
 * @param path  relative path; the pattern is compared with as many of its segments as the pattern has
 * Throws UsageError E-FLEET where the pattern has no year and month, or doesn't fit the name.
 */
export function exportedFromName(path: string, pattern: string): ExportedDay {
  const segments = pattern.split("/").length;
  const name = path.split("/").slice(-segments).join("/");
  const body = patternSource(pattern);
  if (!/\{yyyy\}/.test(pattern) || !/\{MM\}/.test(pattern))
    throw new UsageError(
      "E-FLEET",
      `exported: expected a pattern with {yyyy} and {MM}, found ${JSON.stringify(pattern)}`,
    );
  const groups = new RegExp(`^${body}$`, "u").exec(name)?.groups;
  const first =
    groups === undefined ? null : dayOf(Number(groups.yyyy), Number(groups.MM), Number(groups.dd ?? 1));
  if (groups === undefined || first === null)
    throw new UsageError(
      "E-FLEET",
      `exported: expected file names like ${JSON.stringify(pattern)}, found ${JSON.stringify(path)}; narrow files: or mend the pattern`,
    );
  return groups.dd === undefined
    ? { day: monthEnd(first), latestRow: monthEnd(monthEnd(first) + 1) }
    : { day: first, latestRow: first + 1 };
}
