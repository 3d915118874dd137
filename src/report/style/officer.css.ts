/** The officer's page: signature lines, the authority's box, and the evidence table that has to fit a printed page. */
export const OFFICER_STYLE = `
.proposal { font-size: 1.25rem; line-height: 1.4; max-width: 34em; }
.outcome-failed { font-weight: 600; }
.columns > .body { display: grid; gap: 0 2.25rem; }
@media (min-width: 75rem) { .columns > .body { grid-template-columns: minmax(0, 1fr) minmax(0, 1fr); } }
.columns h3 { margin-top: 0.25rem; font-size: 1rem; }
.signatures { display: grid; gap: 1.25rem 2rem; grid-template-columns: repeat(auto-fit, minmax(min(14rem, 100%), 1fr)); max-width: none; }
.signature { margin: 0; max-width: none; }
.signature .line { display: block; border-bottom: 1px solid var(--ink); height: 2.1rem; }
.signature .under { display: block; font-size: 0.8125rem; color: var(--quiet); }
.authority { border: 1px solid var(--ink); padding: 0.75rem 1rem 0.9rem; margin: 1.75rem 0 0; }
.authority h3 { margin: 0 0 0.25rem; }
.tick { display: inline-block; width: 0.85em; height: 0.85em; border: 1px solid var(--ink); margin-right: 0.5em; vertical-align: -0.05em; }
.choices span { margin-right: 2rem; white-space: nowrap; }
.annex-head { font-size: 1.375rem; margin: 3rem 0 0; font-weight: 600; line-height: 1.2; }
@media (min-width: 48.01rem), print {
  table.evidence { table-layout: fixed; }
  table.evidence th:nth-child(1) { width: 19.5%; }
  table.evidence th:nth-child(2) { width: 31%; }
  table.evidence th:nth-child(4) { width: 6.5em; }
}
.aircraft { columns: 21rem; column-gap: 2.5rem; }
.aircraft tbody th { min-width: 6em; }
.what-if-row { display: grid; grid-template-columns: 13rem minmax(8rem, 18rem) minmax(0, 1fr); gap: 0.15rem 1.25rem; align-items: center; margin: 0 0 0.6rem; }
.what-if-row input { width: 100%; margin: 0; accent-color: var(--ink); }
@media (max-width: 48rem) { .what-if-row { grid-template-columns: minmax(0, 1fr); } }
.what-if-answer { margin: 0.9rem 0 0.6rem; font-size: 1.1875rem; line-height: 1.4; min-height: 2.8em; }
.what-if button { font: inherit; font-size: 0.9375rem; color: inherit; background: none; border: 1px solid var(--ink); padding: 0.2rem 0.7rem; cursor: pointer; }
h1.what-if-head { position: sticky; top: 0; z-index: 1; margin: 1.25rem 0 0; padding: 0.4rem 0; max-width: none;
  background: var(--paper); border-bottom: 2px solid var(--ink); }
.officer { overflow-anchor: none; }
@media screen { .asking h1:not(.what-if-head), .asking .proposed, .asking .sign { display: none; } }
`;
