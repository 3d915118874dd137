/** Tables: hairlines between rows, numbers to the right, and on a narrow screen each row as a short list of its own. */
export const TABLE_STYLE = `
table { border-collapse: collapse; font-size: 0.9375rem; line-height: 1.35; margin: 0; width: 100%; }
caption { text-align: left; color: var(--quiet); font-size: 0.875rem; padding-bottom: 0.35rem; max-width: 44em; }
th, td { text-align: left; vertical-align: top; padding: 0.4rem 1.1rem 0.4rem 0; border-bottom: 1px solid var(--rule); font-weight: 400; }
thead th { font-size: 0.875rem; color: var(--quiet); vertical-align: bottom; border-bottom-color: var(--quiet); }
th:last-child, td:last-child { padding-right: 0; }
th.n, td.n { text-align: right; white-space: nowrap; }
th.k, td.k { white-space: nowrap; }
thead th { overflow-wrap: normal; }
tbody th { font-weight: 600; }
td p { margin: 0 0 0.25rem; }
th .small, td .small { font-weight: 400; display: block; color: var(--quiet); }
tr.total td, tr.total th { border-top: 1px solid var(--quiet); }
.scroll { overflow-x: auto; margin: 0 0 1rem; max-width: 100%; }
.block { margin: 0 0 1rem; }
table.narrow { width: auto; }
th button { font: inherit; color: inherit; background: none; border: 0; padding: 0; text-align: inherit; cursor: pointer; text-decoration: underline dotted; text-underline-offset: 0.2em; }
th[aria-sort="ascending"] button::after { content: " \\2191"; }
th[aria-sort="descending"] button::after { content: " \\2193"; }
table.problems td:nth-child(5) { width: 50%; }
.filter { display: block; margin: 0 0 0.5rem; font-size: 0.875rem; color: var(--quiet); }
.filter input { font: inherit; color: var(--ink); background: var(--paper); border: 0; border-bottom: 1px solid var(--quiet); padding: 0.1rem 0.25rem; margin-left: 0.5rem; width: min(18rem, 100%); }
@media (min-width: 48.01rem), print {
  table.stack tbody th:not(.n, .k) { min-width: 7em; }
  table.stack td:not(.n, .k) { min-width: 5em; }
}
@media (max-width: 30rem) { .filter input { display: block; margin-left: 0; width: 100%; } }
@media screen and (max-width: 48rem) {
  table.stack, table.stack tbody, table.stack tr, table.stack th, table.stack td, table.stack caption { display: block; }
  table.stack thead { position: absolute; width: 1px; height: 1px; overflow: hidden; clip-path: inset(50%); }
  table.stack tr { padding: 0.6rem 0; border-bottom: 1px solid var(--rule); }
  table.stack th, table.stack td { border: 0; padding: 0.1rem 0; }
  table.stack td.n { text-align: left; white-space: normal; }
  table.stack td[data-head]::before { content: attr(data-head) ": "; color: var(--quiet); }
  table.stack td[data-head].wide::before { display: block; content: attr(data-head); font-size: 0.875rem; }
}
`;
