/** Print: ink on paper, A4 or Letter; the proposal takes two pages, the annex begins on the third. */
export const PRINT_STYLE = `
@page { margin: 11mm 14mm 10mm; }
@media print {
  :root { --paper: #fff; --ink: #000; --quiet: #3f3f3f; --rule: #b5b5b5; --faint: #fff; --accent: #38247f;
    --env-1: #7c4600; --env-2: #00507b; --env-3: #005c4a; --env-4: #7f3366; --env-5: #4c4c00; --env-6: #3f4952; }
  html { background: none; }
  body { padding: 0; max-width: none; font-size: 9.4pt; line-height: 1.32; }
  nav, .skip, .filter, .screen { display: none; }
  details:not([open]) { display: none; }
  a { text-decoration: none; }
  h1 { font-size: 14pt; margin: 2mm 0 1mm; }
  h2, h3, .act h2 { break-after: avoid; }
  h2 { font-size: 9.6pt; }
  h3, .columns h3 { font-size: 9.4pt; margin: 1.2mm 0 0.4mm; }
  .officer { font-size: 8.5pt; line-height: 1.24; }
  p, ul, ol, dl { margin-bottom: 1.2mm; max-width: none; }
  caption { max-width: none; padding-bottom: 0.5mm; }
  .masthead, footer, small, .small, caption, figcaption, thead th { font-size: 8pt; line-height: 1.25; }
  .proposal, .lead { font-size: 10pt; line-height: 1.22; max-width: none; }
  table { font-size: 8.1pt; line-height: 1.18; }
  th, td { padding: 0.4mm 3mm 0.4mm 0; }
  thead { display: table-header-group; }
  thead, tbody tr:first-child { break-after: avoid; }
  tbody tr:first-child { break-before: avoid; }
  tr, figure, .authority, .signatures, .act li { break-inside: avoid; }
  section { margin-top: 2mm; padding-top: 1.1mm; display: grid; grid-template-columns: 26mm minmax(0, 1fr); column-gap: 5mm; }
  section > h2 { grid-column: 1; }
  section > .body { grid-column: 2; min-width: 0; }
  .across { display: block; }
  .across > h2 { margin-bottom: 0.8mm; }
  .officer > footer { display: none; }
  .scroll { overflow: visible; }
  li { margin-bottom: 0.3mm; }
  footer { margin-top: 3mm; padding-top: 1.5mm; }
  figure { margin: 1mm 0 1.5mm; }
  .page-two { break-before: page; border-top: 0; margin-top: 0; padding-top: 0; }
  .annex-head { break-before: page; margin-top: 0; font-size: 13pt; }
  .columns { font-size: 8.2pt; line-height: 1.2; }
  .columns h3 { font-size: 8.6pt; }
  .columns > .body { display: block; columns: 2; column-gap: 6mm; }
  .columns > .body > :first-child > h3 { margin-top: 0; }
  .columns li { break-inside: avoid; margin-bottom: 0.1mm; }
  .columns ul { margin-bottom: 0.8mm; }
  .sign > h2 { display: none; }
  .signatures { grid-template-columns: repeat(3, 1fr); gap: 2mm 6mm; }
  .signature .line { height: 5.5mm; }
  .signature .under { font-size: 7.5pt; }
  .authority { margin-top: 2mm; padding: 1.2mm 3mm 1.5mm; }
  .authority h3 { display: inline; margin-right: 8mm; }
  .authority .choices { display: inline; margin: 0; }
  .evidence { font-size: 7.6pt; line-height: 1.12; }
  .evidence th, .evidence td { padding-top: 0.3mm; padding-bottom: 0.3mm; }
  .evidence .small { font-size: 7.2pt; line-height: 1.12; }
  .aircraft { columns: 2; column-gap: 10mm; }
  .officer .act ol { display: grid; grid-template-columns: 1fr 1fr; gap: 0 6mm; max-width: none; }
  .officer .act li:only-child { grid-column: 1 / -1; }
  .officer .act li { font-size: 8.8pt; line-height: 1.2; }
  .officer .act .source { font-size: 7.6pt; }
  section.act { margin-top: 2mm; padding: 1mm 0 0.5mm; border-width: 1mm; }
  .act h2 { font-size: 13pt; }
  .act li { font-size: 10pt; margin-bottom: 1mm; }
  .act .source { font-size: 8pt; }
  .figures { grid-template-columns: 1fr 1fr; gap: 0 14mm; }
  .drawing svg { width: 71mm; }
  figure.chart { margin: 0; max-width: none; }
  figure > h3, figure > h4 { font-size: 9pt; }
  .ruler-page { width: 125mm; margin: 0 0 1mm; }
  dl.facts { gap: 0.2mm 4mm; max-width: none; }
}
`;
