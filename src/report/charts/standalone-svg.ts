/** Charts as one SVG file that stands by itself: a title over each, one below the other, on paper. */
import type { Chart } from "./chart.ts";
import { drawChart } from "./render.ts";
import { textWidthPx } from "./text-room.ts";

const TITLE_PX = 13;
const LINE_PX = 17;
const GAP_PX = 14;
const MARGIN_PX = 8;
const FONT = "system-ui, -apple-system, 'Segoe UI', 'Liberation Sans', sans-serif";

interface Panel {
  readonly lines: readonly string[];
  readonly svg: string;
  readonly width: number;
  readonly height: number;
}

/**
 * The charts as the text of an SVG file. Colours are the light scheme's own, not custom properties, since viewers other
 * than browsers don't know those.
 */
export async function standaloneSvg(charts: readonly Chart[]): Promise<string> {
  const panels: Panel[] = [];
  for (const chart of charts) {
    const svg = plainColours(await drawChart(chart.spec, { prefix: chart.id, alt: chart.alt }));
    const [, , width, height] = / viewBox="([^"]+)"/.exec(svg)![1]!.split(" ").map(Number);
    panels.push({ lines: wrapped(chart.title, width!), svg, width: width!, height: height! });
  }
  const width = panels.reduce((most, panel) => Math.max(most, panel.width), 0) + 2 * MARGIN_PX;
  let y = MARGIN_PX;
  const body = panels.map((panel) => {
    const title = panel.lines
      .map(
        (line, at) =>
          `<text x="${MARGIN_PX}" y="${y + (at + 1) * LINE_PX - 4}" font-size="${TITLE_PX}" font-weight="600" fill="#1c1b19">${escaped(line)}</text>`,
      )
      .join("");
    y += panel.lines.length * LINE_PX;
    const place = `x="${MARGIN_PX}" y="${y}" width="${panel.width}" height="${panel.height}"`;
    y += panel.height + GAP_PX;
    return title + panel.svg.replace("<svg ", `<svg ${place} `);
  });
  return (
    `<svg xmlns="http://www.w3.org/2000/svg" width="${width}" height="${y}" viewBox="0 0 ${width} ${y}" font-family="${FONT}">` +
    `<rect width="100%" height="100%" fill="#fcfbf8"/>${body.join("")}</svg>\n`
  );
}

/** `var(--name, colour)` as the colour, and the page's font as the file's own. */
const plainColours = (svg: string): string =>
  svg.replace(/var\(--[\w-]+, ([^)]+)\)/g, "$1").replace(/ font-family="inherit"/g, "");

/** Title in lines that fit a width; a word longer than a line stays whole. */
function wrapped(text: string, width: number): string[] {
  const lines: string[] = [];
  for (const word of text.split(" ")) {
    const last = lines.at(-1);
    const longer = last === undefined ? word : `${last} ${word}`;
    if (last !== undefined && textWidthPx(longer, TITLE_PX) * 1.08 <= width) lines[lines.length - 1] = longer;
    else lines.push(word);
  }
  return lines;
}

const escaped = (text: string): string =>
  text.replace(/&/g, "&amp;").replace(/</g, "&lt;").replace(/>/g, "&gt;");
