/** Text for a terminal: no line over a hundred columns, words whole. */

export const WIDEST = 100;

/** Where the words of a line begin: after its indent, and after a label that is set off by two spaces or more. */
const hangingIndent = (line: string): number => /^\s*(?:\S+(?: \S+)* {2,})?/.exec(line)![0].length;

/**
 * Breaks lines that are too long at their spaces; what goes on stands under the first word of the sentence. A word longer
 * than a line stays whole.
 */
export function wrapped(text: string, columns = WIDEST): string {
  return text
    .split("\n")
    .flatMap((line) => brokenLine(line, columns))
    .join("\n");
}

function brokenLine(line: string, columns: number): string[] {
  if (line.length <= columns) return [line];
  const hang = hangingIndent(line);
  const indent = " ".repeat(hang < columns / 2 ? hang : 0);
  const lines: string[] = [];
  let rest = line;
  while (rest.length > columns) {
    const from = lines.length === 0 ? hang : indent.length;
    const space = rest.lastIndexOf(" ", columns);
    const at = space > from ? space : rest.indexOf(" ", columns);
    if (at < 0) break;
    lines.push(rest.slice(0, at));
    rest = indent + rest.slice(at + 1);
  }
  return [...lines, rest];
}
