import { readFleet } from "./dist/fleet/read-fleet.js";
import { exportFolder } from "./dist/ingest/read-files.js";
import { readExports } from "./dist/ingest/read-exports.js";
import { fleetLives } from "./dist/interval/fleet-lives.js";
import { livesByGroup } from "./dist/records/lives-by-group.js";
import { lastMonthEnd } from "./dist/interval/reported-day.js";
import { greatestAge } from "./dist/interval/risks.js";
import { groupModes } from "./dist/interval/group-modes.js";
import { readFileSync } from "node:fs"; import { dirname } from "node:path";
const path = process.argv[2]; const text = readFileSync(path, "utf8"); const f0 = readFleet(text, path); const f = f0.fleet ?? f0;
const exports = await readExports(f, exportFolder(dirname(path)), () => {}, {}); const asOf = lastMonthEnd(exports.latestDay); const { lives } = fleetLives(f, exports, asOf);
const gs = livesByGroup(lives); for (let r=0;r<2;r++) { const c=process.cpuUsage(); for (const [k,own] of gs) groupModes(own, greatestAge(own,10,3), 0.95); const u=process.cpuUsage(c); console.log(lives.length, ((u.user+u.system)/1e6).toFixed(2)); }
