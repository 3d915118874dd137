await import("./run.mjs");
console.log(globalThis.CNT);
console.log(globalThis.CNT.n, globalThis.CNT.life, globalThis.CNT.keys.size);
