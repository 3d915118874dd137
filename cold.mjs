import { readFileSync } from "node:fs";
import { parseLifeTable } from "./dist/life/parse-life-table.js";
import { fitWeibull } from "./dist/life/weibull-fit.js";
import { weibullLikelihood } from "./dist/life/likelihood-terms.js";
import { likelihoodAt } from "./dist/life/weibull-likelihood.js";
const { groups } = parseLifeTable(readFileSync(`/tmp/bench-work/lives-${process.argv[2]}.csv`,"utf8")); const t = groups[0].table;
const T=(n,f)=>{const c=process.cpuUsage(),s=performance.now();const r=f();const u=process.cpuUsage(c);console.log(n,(performance.now()-s).toFixed(1),"cpu",((u.user+u.system)/1e3).toFixed(1));return r;};
const d=T("prep",()=>weibullLikelihood(t)); for(let i=0;i<4;i++) T("eval",()=>likelihoodAt(d,0,2.5)); T("fit",()=>fitWeibull(t));T("fit",()=>fitWeibull(t));
