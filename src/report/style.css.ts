/**
 * The one stylesheet of every page: a technical note on paper. Structure is white space and hairlines; one accent marks
 * what is recommended and nothing else; environments have a colour, and always their name beside it.
 *
 * Its text is hashed into the content-security policy, so pages carry no style attributes at all.
 */
import { CHART_STYLE } from "./style/chart.css.ts";
import { OFFICER_STYLE } from "./style/officer.css.ts";
import { PRINT_STYLE } from "./style/print.css.ts";
import { TABLE_STYLE } from "./style/table.css.ts";

/** Colours by scheme. Every text colour has a contrast of at least 4.5 to 1 with its paper. */
const COLOURS = `
:root {
  color-scheme: light dark;
  --paper: #fcfbf8; --ink: #1c1b19; --quiet: #5f5c55; --rule: #d3cfc5; --faint: #f1eee7; --accent: #46309a;
  --env-1: #945400; --env-2: #005f92; --env-3: #00705a; --env-4: #98407a; --env-5: #5c5c00; --env-6: #4d5963;
}
@media (prefers-color-scheme: dark) {
  :root {
    --paper: #17181a; --ink: #e9e5dc; --quiet: #a8a399; --rule: #3c3d40; --faint: #202124; --accent: #b9a7ff;
    --env-1: #e6a04c; --env-2: #6db8ea; --env-3: #4cc4a4; --env-4: #e596c6; --env-5: #cbc65a; --env-6: #a9b6c1;
  }
}
`;

const TEXT = `
* { box-sizing: border-box; }
[hidden] { display: none !important; }
html { background: var(--paper); color: var(--ink); -webkit-text-size-adjust: 100%; text-size-adjust: 100%; }
body {
  margin: 0 auto; padding: 1.5rem clamp(1rem, 4vw, 3.5rem) 3rem; max-width: 84rem;
  font: 1.0625rem/1.5 Charter, "Bitstream Charter", Cambria, "Liberation Serif", "Times New Roman", serif;
  font-variant-numeric: lining-nums tabular-nums; overflow-wrap: anywhere;
}
h1 { font-size: 1.75rem; line-height: 1.2; font-weight: 600; margin: 1.25rem 0 0.75rem; max-width: 34em; text-wrap: balance; }
h2 { font-size: 1.0625rem; line-height: 1.35; font-weight: 600; margin: 0; }
h3 { font-size: 1.0625rem; font-weight: 600; margin: 1.5rem 0 0.25rem; max-width: 38em; }
p, ul, ol, dl, blockquote { margin: 0 0 0.75rem; max-width: 38em; }
ul, ol { padding-left: 1.1em; }
li { margin-bottom: 0.25rem; }
a { color: inherit; text-decoration-thickness: 1px; text-underline-offset: 0.18em; }
a:focus-visible, button:focus-visible, summary:focus-visible, [tabindex]:focus-visible, input:focus-visible {
  outline: 2px solid var(--ink); outline-offset: 2px;
}
sup { line-height: 0; }
small, .small { font-size: 0.875rem; line-height: 1.4; }
.quiet { color: var(--quiet); }
.number { white-space: nowrap; }
.lead { font-size: 1.1875rem; line-height: 1.45; max-width: 36em; }
.recommended { color: var(--accent); font-weight: 600; }
bdi { unicode-bidi: isolate; }
code { font: inherit; font-variant-numeric: inherit; }
pre { font: 0.8125rem/1.45 ui-monospace, "Liberation Mono", monospace; white-space: pre-wrap; margin: 0.5rem 0; max-width: 64rem; }
math { font-size: 1.05em; }
math[display="block"] { margin: 0.5rem 0 0.75rem; width: max-content; }
@media (max-width: 30rem) { math[display="block"] { font-size: 0.8em; } }
details { margin: 0.25rem 0 1rem; }
summary { cursor: pointer; color: var(--quiet); }
.skip { position: absolute; left: -100vw; }
.skip:focus { left: 1rem; top: 0.25rem; background: var(--paper); padding: 0.25rem 0.5rem; z-index: 1; }
`;

/** Headings hang in a side column where there is room, above their text where there is not. */
const LAYOUT = `
.masthead { display: flex; flex-wrap: wrap; gap: 0.1rem 2rem; align-items: baseline; justify-content: space-between;
  font-size: 0.875rem; color: var(--quiet); }
.masthead p { margin: 0; }
nav ul { list-style: none; display: flex; flex-wrap: wrap; gap: 0.1rem 1.25rem; margin: 0.35rem 0 0; padding: 0.35rem 0 0;
  max-width: none; border-top: 1px solid var(--rule); font-size: 0.9375rem; }
nav li { margin: 0; }
nav [aria-current] { text-decoration: none; font-weight: 600; }
section { margin: 2rem 0 0; padding-top: 0.75rem; border-top: 1px solid var(--rule); }
@media (min-width: 60rem) {
  section { display: grid; grid-template-columns: 10.5rem minmax(0, 1fr); column-gap: 2.25rem; }
  section > h2 { grid-column: 1; grid-row: 1; }
  section > .body { grid-column: 2; min-width: 0; }
}
section > .body > :last-child { margin-bottom: 0; }
.act + section { border-top: 0; margin-top: 1rem; }
section.act {
  display: block; border-top: 0.5rem solid var(--ink); border-bottom: 0.5rem solid var(--ink); padding: 1rem 0 1.1rem; margin-top: 1.25rem;
}
.act h2 { font-size: 1.75rem; line-height: 1.15; font-weight: 700; }
.act ol { list-style: none; padding: 0; margin: 0; max-width: 46em; }
.act li { font-size: 1.1875rem; line-height: 1.35; margin: 0 0 0.85rem; }
.act li b { display: block; font-weight: 700; }
.act .source { display: block; font-size: 0.875rem; color: var(--quiet); }
dl.facts { display: grid; grid-template-columns: minmax(7.5rem, max-content) minmax(0, 1fr); gap: 0.2rem 1.25rem; max-width: 46em; }
dl.facts dt { color: var(--quiet); }
dl.facts dd { margin: 0; }
@media (max-width: 30rem) {
  dl.facts { grid-template-columns: minmax(0, 1fr); gap: 0; }
  dl.facts dd { margin-bottom: 0.5rem; }
}
footer { margin-top: 3rem; padding-top: 0.75rem; border-top: 1px solid var(--rule); font-size: 0.875rem; line-height: 1.4; color: var(--quiet); }
footer p { max-width: 52em; margin-bottom: 0.25rem; }
figure { margin: 0.75rem 0 1.25rem; max-width: 52rem; }
figcaption { font-size: 0.875rem; line-height: 1.4; color: var(--quiet); max-width: 44em; }
`;

export const STYLE = [COLOURS, TEXT, LAYOUT, TABLE_STYLE, CHART_STYLE, OFFICER_STYLE, PRINT_STYLE].join("\n");
