import "./lh.mjs";
console.log(globalThis.EV[0]/globalThis.EV[1], globalThis.EV[1]); const h=Object.entries(globalThis.EV[3]).filter(([k])=>+k.split(":")[0]<=7).map(([k,v])=>[...k.split(":").map(Number),v]).sort((a,b)=>a[0]-b[0]||b[1]-a[1]); let last=0,line=""; for(const [i,e,v] of h){ if(i!==last){console.log(line);line=i+": ";last=i;} line+=`1e${e}:${v} `;} console.log(line);
