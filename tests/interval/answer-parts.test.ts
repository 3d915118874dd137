import { fileURLToPath, pathToFileURL } from "node:url";
import { describe, expect, it } from "vitest";
import { answerParts, type PartThread } from "../../src/interval/answer-parts.ts";
import { type PartJob, partAnswers } from "../../src/interval/part-answers.ts";
import { startPartThreads } from "../../src/run/part-threads.ts";
import { makeLife } from "../records/make-life.ts";
import { makeFleetSettings } from "../support/make-fleet-settings.ts";

const settings = makeFleetSettings();
const PARTS = ["grip bearing", "link bearing", "seal"];
const fleet = {
  ...settings,
  parts: PARTS.map((part) => ({ ...settings.parts[0]!, part })),
  tasks: PARTS.map((part) => ({ ...settings.tasks[0]!, part, task: `${part} check` })),
};
const keys = PARTS.map((part) => ({ part, environment: "sandy", standard: "plain" }));

/** Some components with three readings each, a little faster one after the other. */
function jobOf(part: string, components: number): PartJob {
  const group = keys.find((key) => key.part === part)!;
  const lives = Array.from({ length: components }, (_, component) =>
    makeLife({
      ...{ component, group, aircraft: `A${component % 6}` },
      readingHours: [300, 600, 900],
      readingWearMm: [1, 2, 3].map((k) => k * (0.05 + 0.002 * component) + 0.001 * ((component * k) % 5)),
    }),
  );
  return {
    ...{ part, lives, keys, gaps: { joined: [], notJoined: new Map() } },
    judging: {
      ...{ fleet, asOf: 1000, alerts: [], safeguardsMissing: [] },
      serials: lives.map((_, k) => `S${k}`),
      rows: { read: 100, rejected: 0 },
    },
    month: { actNow: [], flown: null },
  };
}
const jobs = [jobOf(PARTS[0]!, 12), jobOf(PARTS[1]!, 25), jobOf(PARTS[2]!, 11)];

describe("answerParts(jobs, threads, onStage)", () => {
  const alone = jobs.map((job) => partAnswers(job, () => {}));

  it("gives the answers in the order of the jobs, whoever gave them, and each stage of its own parts", async () => {
    const asked: string[] = [];
    const other: PartThread = {
      answer: async (job) => {
        asked.push(job.part);
        return partAnswers(structuredClone(job), () => {});
      },
    };
    const stages: string[] = [];
    expect(await answerParts(jobs, [other], (stage) => stages.push(stage))).toEqual(alone);
    // The largest is done here; the other two together are about as much.
    expect(asked).toEqual([PARTS[0], PARTS[2]]);
    expect(new Set(stages)).toContain("recommendations");
  });

  it("has as much to say of a part in a thread of its own", async () => {
    const script = pathToFileURL(fileURLToPath(new URL("../../dist/run/part-worker.js", import.meta.url)));
    const others = startPartThreads(1, script);
    try {
      expect(await answerParts(jobs, others.threads, () => {})).toEqual(alone);
    } finally {
      await others.close();
    }
  });

  it("fails with the error of the thread that failed", async () => {
    const broken: PartThread = { answer: () => Promise.reject(new Error("no such part")) };
    await expect(answerParts(jobs, [broken], () => {})).rejects.toThrow("no such part");
    const script = pathToFileURL(fileURLToPath(new URL("../../dist/run/part-worker.js", import.meta.url)));
    const others = startPartThreads(1, script);
    try {
      const [thread] = others.threads;
      const nonsense = { ...jobs[0]!, keys: null } as unknown as PartJob;
      await expect(thread!.answer(nonsense)).rejects.toThrow(/null|iterable/);
      // …and goes on with the next.
      expect(await thread!.answer(jobs[0]!)).toEqual(alone[0]);
    } finally {
      await others.close();
    }
  });
});
