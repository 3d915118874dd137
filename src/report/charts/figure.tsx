/** A chart on a page: the finding as its title, the drawing, how to read it, and its numbers one click away. */
import type { VNode } from "preact";
import { fixed } from "../number-format.ts";
import type { ChartCell, ChartColumn, FigureProps } from "./chart.ts";

/** Longest table that stands on a page; a longer one is a CSV beside it. */
export const MOST_TABLE_ROWS = 500;

const written = (cell: ChartCell | undefined, column: ChartColumn): string => {
  if (cell === null || cell === undefined) return "–";
  return typeof cell === "number" ? fixed(cell, column.decimals ?? 0, column.rounding) : cell;
};

function Numbers({ title, columns, rows, csvName }: FigureProps): VNode {
  const link = csvName === undefined ? null : <a href={csvName}>{csvName}</a>;
  if (rows.length > MOST_TABLE_ROWS) {
    return (
      <p>
        {fixed(rows.length, 0)} rows: {link ?? "too many for this page"}
      </p>
    );
  }
  return (
    <>
      {link === null ? null : <p>The same as CSV: {link}</p>}
      <NumberTable title={title} columns={columns} rows={rows} />
    </>
  );
}

/** A table of bare cells: a page has thousands of them. Cells are numbers, set to the right, but for those in words. */
function NumberTable({ title, columns, rows }: Pick<FigureProps, "title" | "columns" | "rows">): VNode {
  const inWords = columns.map((column) => column.decimals === undefined);
  return (
    // biome-ignore lint/a11y/useSemanticElements: sections are the page's own parts, with a heading each
    // biome-ignore lint/a11y/noNoninteractiveTabindex: a frame that scrolls must be reachable by keyboard
    <div class="scroll" role="region" tabIndex={0} aria-label={`Numbers of the chart: ${title}`}>
      <table class="numbers">
        <thead>
          <tr>
            {columns.map((column, at) => (
              <th key={column.name} scope="col" class={inWords[at] ? "w" : undefined}>
                {column.head}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {Array.from(rows, (row, index) => (
            <tr key={index}>
              {columns.map((column, at) => (
                <td key={column.name} class={inWords[at] ? "w" : undefined}>
                  {written(row[at], column)}
                </td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

/** A figure; `level` is the rank of its heading on the page. */
export function Figure(props: FigureProps & { readonly level?: 3 | 4 }): VNode {
  const Heading = props.level === 4 ? "h4" : "h3";
  return (
    <figure class="chart">
      <Heading>
        <bdi>{props.title}</bdi>
      </Heading>
      <div class="drawing" dangerouslySetInnerHTML={{ __html: props.svg }} />
      <figcaption>
        <bdi>{props.caption}</bdi>
      </figcaption>
      <details>
        <summary>In words and numbers</summary>
        <p>
          <bdi>{props.alt}</bdi>
        </p>
        <Numbers {...props} />
      </details>
    </figure>
  );
}
