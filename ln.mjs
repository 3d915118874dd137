import { readFileSync } from "node:fs";
import { parseLifeTable } from "/tmp/wt-life/dist/life/parse-life-table.js";
const { fitLognormal: neu } = await import("/tmp/wt-life/dist/life/alternatives.js"); const { fitLognormal: old } = await import("/tmp/wt-life0/dist/life/alternatives.js");
const { groups } = parseLifeTable(readFileSync(`/tmp/bench-work/lives-interval.csv`,"utf8")); const t0 = groups[0].table; const t={...t0,rows:1000};
for (let r=0;r<3;r++) for (const [n,f] of [["old",old],["new",neu]]) { const c=process.cpuUsage(); let x; for(let i=0;i<40;i++) x=f(t); const u=process.cpuUsage(c); console.log(n,((u.user+u.system)/40e3).toFixed(2),"ms",x.logLikelihood,x.sigma); }
for (const f of [old,neu]) { globalThis.LN=0; f(t); console.log(globalThis.LN); }
