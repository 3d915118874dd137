/**
 * A table as the pages set it: what it shows in its caption, units in the column heads, numbers to the right.
 */
import type { ComponentChildren, VNode } from "preact";

export interface Column {
  readonly head: string;
  /** Right-aligned; the caller gives every cell the same count of decimals. */
  readonly numeric?: boolean;
  /** On a narrow screen the head stands above the cell, not before it: for cells of several lines. */
  readonly wide?: boolean;
  /** Never broken over lines: a short word of our own. */
  readonly unbroken?: boolean;
  /** Not offered for sorting (a drawing). */
  readonly fixed?: boolean;
}

/** A cell: content, or content with what it sorts by. */
export type Cell = ComponentChildren | { readonly show: ComponentChildren; readonly sortBy: number | string };

export interface TableProps {
  readonly caption?: ComponentChildren;
  readonly columns: readonly Column[];
  readonly rows: readonly (readonly Cell[])[];
  readonly sortable?: boolean;
  /** "stack": each row a short list on a narrow screen (text); "scroll": scrolls sideways in its own frame (numbers). */
  readonly narrow?: "stack" | "scroll";
  /** A class of its own, where one table needs other widths than the rest. */
  readonly kind?: string;
  /** Only as wide as its content. */
  readonly compact?: boolean;
  /** What a screen reader calls the frame of a scrolling table without a caption. */
  readonly label?: string;
}

const sorted = (cell: Cell): cell is { show: ComponentChildren; sortBy: number | string } =>
  typeof cell === "object" && cell !== null && "sortBy" in cell;

function BodyCell({ cell, column, first }: { cell: Cell; column: Column; first: boolean }): VNode {
  const content = sorted(cell) ? cell.show : cell;
  const sortBy = sorted(cell) ? String(cell.sortBy) : undefined;
  const classes = [column.numeric ? "n" : "", column.unbroken ? "k" : "", column.wide ? "wide" : ""]
    .filter(Boolean)
    .join(" ");
  if (first) {
    return (
      <th scope="row" class={classes || undefined} data-sort={sortBy}>
        {content}
      </th>
    );
  }

  return (
    <td class={classes || undefined} data-head={column.head || undefined} data-sort={sortBy}>
      {content}
    </td>
  );
}

export function Table(props: TableProps): VNode {
  const { columns, rows, caption, sortable = false, narrow = "stack", compact = false } = props;
  const classes = [narrow === "stack" ? "stack" : "", compact ? "narrow" : "", props.kind ?? ""]
    .filter(Boolean)
    .join(" ");
  const table = (
    <table class={classes || undefined} data-sortable={sortable ? "" : undefined}>
      {caption === undefined ? null : <caption>{caption}</caption>}
      <thead>
        <tr>
          {columns.map((column) => (
            <th
              key={column.head}
              scope="col"
              class={column.numeric ? "n" : undefined}
              data-fixed={column.fixed ? "" : undefined}
            >
              {column.head}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {rows.map((row, index) => (
          // Rows have no identity of their own, and the page is rendered once.
          <tr key={index}>
            {columns.map((column, at) => (
              <BodyCell key={column.head} cell={row[at]} column={column} first={at === 0} />
            ))}
          </tr>
        ))}
      </tbody>
    </table>
  );
  if (narrow === "stack") return <div class="block">{table}</div>;
  const label = props.label ?? (typeof caption === "string" ? caption : "Table");
  return (
    // biome-ignore lint/a11y/useSemanticElements: sections are the page's own parts, with a heading each
    // biome-ignore lint/a11y/noNoninteractiveTabindex: a frame that scrolls must be reachable by keyboard
    <div class="scroll" role="region" tabIndex={0} aria-label={label}>
      {table}
    </div>
  );
}
