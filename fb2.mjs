import { readFileSync } from "node:fs";
const D=process.argv[2]; const { parseLifeTable } = await import(D+"/dist/life/parse-life-table.js"); const { fitWeibull } = await import(D+"/dist/life/weibull-fit.js");
const n=process.argv[3]; const { groups } = parseLifeTable(readFileSync(`/tmp/bench-work/lives-${n}.csv`,"utf8")); const t = groups[0].table; const ms=[]; let f;
for(let i=0;i<41;i++){const s=performance.now();f=fitWeibull(t);ms.push(performance.now()-s);} const cold=ms[0]; ms.sort((a,b)=>a-b); console.log(D.slice(5),n,"cold",cold.toFixed(1),"median",ms[20].toFixed(2),"min",ms[0].toFixed(2),f.shape,f.logLikelihood);
