/** A notebook's file in the percent format, cut into its cells. */

/** Words between the numbers: the lines of a markdown cell without their comment marks. */
export interface MarkdownCell {
  readonly kind: "markdown";
  readonly line: number;
  readonly text: string;
}

/** Plain TypeScript. `number` counts the code cells from 1; `line` is that of its marker. */
export interface CodeCell {
  readonly kind: "code";
  readonly number: number;
  readonly line: number;
  readonly title: string;
  readonly source: string;
}

export type Cell = MarkdownCell | CodeCell;

const MARKER = /^\/\/ %%(?:\s*(\[markdown\]))?\s*(.*)$/;

/**
 * Cuts a notebook at its markers, `// %% title` and `// %% [markdown]`.
 *
 * @throws Error where something stands before the first marker, or a markdown cell holds code
 */
export function cellsOf(text: string, name: string): Cell[] {
  const cells: Cell[] = [];
  const lines = text.split("\n");
  const starts = lines.flatMap((line, at) => (MARKER.test(line) ? [at] : []));
  const before = lines.slice(0, starts[0] ?? lines.length);
  if (before.some((line) => line.trim() !== "")) {
    throw new Error(`${name}:1: expected a cell marker "// %%" first, found other text`);
  }
  let number = 0;
  for (const [index, start] of starts.entries()) {
    const [, markdown, title] = MARKER.exec(lines[start]!)!;
    const body = lines.slice(start + 1, starts[index + 1] ?? lines.length);
    if (markdown !== undefined) {
      cells.push({ kind: "markdown", line: start + 1, text: uncommented(body, start + 2, name) });
    } else {
      number += 1;
      const source = body.join("\n").trim();
      cells.push({ kind: "code", number, line: start + 1, title: title || `cell ${number}`, source });
    }
  }
  return cells;
}

function uncommented(lines: readonly string[], firstLine: number, name: string): string {
  return lines
    .map((line, at) => {
      if (line.trim() === "") return "";
      if (!line.startsWith("//"))
        throw new Error(`${name}:${firstLine + at}: expected a comment in a markdown cell, found code`);
      return line.replace(/^\/\/ ?/, "");
    })
    .join("\n")
    .trim();
}

/**
 * The notebook with a call in place of each code cell's marker, so that whoever runs it knows which cell is at work.
 * Lines stay where they are.
 */
export function withCellCalls(text: string, hook: string): string {
  let number = 0;
  return text
    .split("\n")
    .map((line) => {
      const marker = MARKER.exec(line);
      if (marker === null || marker[1] !== undefined) return line;
      number += 1;
      return `;globalThis[${JSON.stringify(hook)}](${number});`;
    })
    .join("\n");
}
