/** One process of the study: takes names of fleets from its parent, one at a time, and gives back their lines. */
import { TruthBook } from "./cells.ts";
import type { StudyJob } from "./jobs.ts";
import { studyFleet } from "./study-fleet.ts";

const truth = new TruthBook(process.argv[2]!, process.argv[3]!);
process.on("message", async (job: StudyJob) => {
  process.send!(await studyFleet(job, truth));
});
process.on("disconnect", () => process.exit(0));
