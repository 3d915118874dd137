import { readFileSync } from "node:fs";
import { parseLifeTable } from "./dist/life/parse-life-table.js";
import { survivalCurve } from "./dist/life/survival-curve.js";
const { groups } = parseLifeTable(readFileSync(`/tmp/bench-work/lives-interval.csv`,"utf8")); const t = groups[0].table;
for (const n of [1000, 3000, 9991]) { const s = {...t, rows:n}; const c=process.cpuUsage(); const r=survivalCurve(s); const u=process.cpuUsage(c); console.log(n, r.kind, r.points?.length, r.logLikelihood, r.selfConsistency, (u.user/1e6).toFixed(2),"s"); }
