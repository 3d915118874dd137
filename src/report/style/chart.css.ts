/** What SVG charts and the interval ruler take from the page: its type, its ink and the colours of its scheme. */
export const CHART_STYLE = `
figure svg, .ruler { display: block; max-width: 100%; height: auto; overflow: visible; }
svg text { font-family: inherit; font-variant-numeric: lining-nums tabular-nums; }
.drawing svg { width: 100%; }
.ruler-row { width: 15.625rem; }
@media (min-width: 48.01rem), print { .ruler-row { max-width: none; } }
.ruler-page { width: 46rem; margin: 0.25rem 0 1rem; }
.narrow-only { display: none; }
@media screen and (max-width: 36rem) { .narrow-only { display: block; } .wide-only { display: none; } }
figure.chart { margin: 1rem 0 1.5rem; max-width: 27.5rem; }
/* On a telephone a drawing goes on into the free edge at its right; below that its type would be too small, so it scrolls. */
@media screen and (max-width: 30rem) { .drawing { margin-right: -0.875rem; overflow-x: auto; } .drawing svg { min-width: 21.375rem; } }
figure > h3, figure > h4 { font-size: 1rem; line-height: 1.3; font-weight: 600; margin: 0 0 0.25rem; }
.numbers { width: auto; font-size: 0.875rem; }
.numbers th, .numbers td { text-align: right; white-space: nowrap; padding-top: 0.2rem; padding-bottom: 0.2rem; }
.numbers .w { text-align: left; }
.numbers .w:last-child:not(:first-child) { white-space: normal; min-width: 10rem; }
figure .scroll { margin-top: 0.5rem; }
.figures { display: grid; grid-template-columns: repeat(auto-fit, minmax(min(22rem, 100%), 1fr)); gap: 0 2.25rem; align-items: start; }
/* Panels side by side stand level, whatever the length of their titles. */
@supports (grid-template-rows: subgrid) {
  .figures > figure.chart { display: grid; grid-row: span 4; grid-template: subgrid / minmax(0, 1fr); row-gap: 0; align-content: start; }
  .figures > figure.chart > h3, .figures > figure.chart > h4 { align-self: end; }
}
@media print {
  h3 + .figures > figure.chart { margin-bottom: 4mm; }
  .figures { break-before: avoid; }
  .body > p:has(+ h3) { break-after: avoid; }
}
`;
