/** What SVG charts and the interval ruler take from the page: its type, its ink and the colours of its scheme. */
export const CHART_STYLE = `
figure svg, td svg { display: block; max-width: 100%; height: auto; }
svg text { font-family: inherit; font-variant-numeric: lining-nums tabular-nums; }
figure > h3 { margin-top: 0; }
figure .scroll { margin-top: 0.5rem; }
`;
