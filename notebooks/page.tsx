/** A notebook that ran, as one self-contained page in the report's own style. */
import type { ComponentChildren, VNode } from "preact";
import { Figure } from "../src/report/charts/figure.tsx";
import { figuresBy } from "../src/report/charts/figures.ts";
import { drawChart } from "../src/report/charts/render.ts";
import { Document, Part, renderPage } from "../src/report/layout.tsx";
import { Table } from "../src/report/table.tsx";
import type { Cell, CodeCell } from "./cells.ts";
import type { Output } from "./kit.ts";
import { blocksOf, inline } from "./markdown.tsx";

export interface Notebook {
  /** File name, "01-wear-rates.nb.ts". */
  readonly name: string;
  readonly cells: readonly Cell[];
  readonly outputs: ReadonlyMap<number, readonly Output[]>;
}

/** "01-wear-rates.nb.ts" becomes "01-wear-rates.html". */
export const pageName = (notebook: string): string => notebook.replace(/\.nb\.ts$/, ".html");

/** Title of a notebook: its first heading. */
export function titleOf(cells: readonly Cell[], name: string): string {
  for (const cell of cells) {
    if (cell.kind !== "markdown") continue;
    const title = blocksOf(cell.text).find((block) => block.kind === "heading" && block.level === 1);
    if (title?.kind === "heading") return title.text;
  }
  throw new Error(`${name}: expected a first-rank heading ("# …") in a markdown cell, found none`);
}

async function shown(output: Output): Promise<VNode> {
  if (output.kind === "text") {
    const nodes = blocksOf(output.text).map((block) =>
      block.kind === "body" ? block.node : <h3>{block.text}</h3>,
    );
    return <>{nodes}</>;
  }
  if (output.kind === "table") return <Table {...output.table} />;
  return <Figure {...(await figuresBy(drawChart)(output.chart))} />;
}

const Source = ({ cell }: { cell: CodeCell }): VNode => (
  <details>
    <summary>Code: {cell.title}</summary>
    <pre>{cell.source}</pre>
  </details>
);

interface Section {
  readonly title: string | null;
  readonly body: ComponentChildren[];
}

/** The page's text. `all` are the notebooks of this run with their titles, for the ways between them. */
export async function notebookPage(
  { name, cells, outputs }: Notebook,
  all: readonly { readonly name: string; readonly title: string }[],
): Promise<string> {
  const sections: Section[] = [{ title: null, body: [] }];
  for (const cell of cells) {
    if (cell.kind === "code") {
      const { body } = sections.at(-1)!;
      for (const output of outputs.get(cell.number) ?? []) body.push(await shown(output));
      body.push(<Source cell={cell} />);
      continue;
    }
    for (const block of blocksOf(cell.text)) {
      if (block.kind === "body") sections.at(-1)!.body.push(block.node);
      else if (block.level === 2) sections.push({ title: block.text, body: [] });
    }
  }
  const title = titleOf(cells, name);
  const navigation = (
    <nav aria-label="Notebooks">
      <ul>
        {all.map((one) => (
          <li key={one.name}>
            <a href={pageName(one.name)} aria-current={one.name === name ? "page" : undefined}>
              {one.name.replace(/-.*$/, "")}
            </a>
          </li>
        ))}
      </ul>
    </nav>
  );
  const page = Document({
    title,
    heading: <p>rotorwear notebooks · {name}</p>,
    navigation,
    children: (
      <>
        <h1>{inline(title)}</h1>
        {sections.map(({ title: own, body }, at) =>
          own === null ? (
            <div key={at}>{body}</div>
          ) : (
            <Part key={at} title={own}>
              {body}
            </Part>
          ),
        )}
      </>
    ),
  });
  return renderPage(page);
}
