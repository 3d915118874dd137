/** As much of markdown as the notebooks use: headings, paragraphs, lists, `code`, **strong**, *emphasis*. */
import type { ComponentChildren, VNode } from "preact";

export type Block =
  | { readonly kind: "heading"; readonly level: 1 | 2; readonly text: string }
  | { readonly kind: "body"; readonly node: VNode };

/** A markdown cell as blocks; headings stand apart, since they open the page's parts. */
export function blocksOf(text: string): Block[] {
  return text.split(/\n{2,}/).flatMap((chunk): Block[] => {
    const heading = /^(#{1,2}) (.+)$/.exec(chunk.trim());
    if (heading !== null) {
      return [{ kind: "heading", level: heading[1]!.length as 1 | 2, text: heading[2]! }];
    }
    if (chunk.trim() === "") return [];
    return [{ kind: "body", node: bodyOf(chunk) }];
  });
}

function bodyOf(chunk: string): VNode {
  if (!/^- /.test(chunk)) return <p>{inline(chunk.replace(/\s*\n\s*/g, " "))}</p>;
  const items = chunk.split(/\n(?=- )/).map((item) => item.replace(/^- /, "").replace(/\s*\n\s*/g, " "));
  return (
    <ul>
      {items.map((item) => (
        <li key={item}>{inline(item)}</li>
      ))}
    </ul>
  );
}

const MARKS = /(`[^`]+`|\*\*[^*]+\*\*|\*[^*\s][^*]*\*)/;

/** Text with its marks as elements. */
export const inline = (text: string): ComponentChildren =>
  text.split(MARKS).map((piece, at) => {
    if (at % 2 === 0) return piece;
    if (piece.startsWith("`")) return <code key={at}>{piece.slice(1, -1)}</code>;
    if (piece.startsWith("**")) return <strong key={at}>{piece.slice(2, -2)}</strong>;
    return <em key={at}>{piece.slice(1, -1)}</em>;
  });
