import { fileURLToPath, pathToFileURL } from "node:url";
import { describe, expect, it } from "vitest";
import { answerParts } from "../../src/interval/answer-parts.ts";
import { type PartThread, type Pieces, partsBegun, takePieces } from "../../src/interval/part-pieces.ts";
import type { PartJob } from "../../src/interval/part-work.ts";
import { noneTaken } from "../../src/interval/turns.ts";
import { startPartThreads } from "../../src/run/part-threads.ts";
import { makeLife } from "../records/make-life.ts";
import { makeFleetSettings } from "../support/make-fleet-settings.ts";

const NO_FAILURES = { failures: [], open: [], lacks: null };
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
      ...{ fleet, asOf: 1000, alerts: [], failures: NO_FAILURES, safeguardsMissing: [] },
      serials: lives.map((_, k) => `S${k}`),
      rows: { read: 100, rejected: 0, unassigned: 0 },
    },
    month: { actNow: [], flown: null },
  };
}
const jobs = [jobOf(PARTS[0]!, 12), jobOf(PARTS[1]!, 25), jobOf(PARTS[2]!, 11)];

/** Another thread, here: it gets copies of everything but the count of what is taken. */
const threadHere = (took: (pieces: readonly number[]) => void): PartThread => ({
  takePieces: async ({ taken, ...given }) => {
    const pieces: Pieces = { ...structuredClone(given), taken };
    const answered = takePieces(
      pieces,
      partsBegun(pieces.parts, () => {}),
    );
    took(answered.map(({ part }) => part));
    return answered;
  },
});

const script = pathToFileURL(fileURLToPath(new URL("../../dist/run/part-worker.js", import.meta.url)));

describe("answerParts(jobs, threads, onStage)", async () => {
  const stages: string[] = [];
  const alone = await answerParts(jobs, [], (stage) => stages.push(stage));

  it("gives the answers in the order of the jobs, and hears of each stage", () => {
    expect(alone.map(({ part }) => part)).toEqual(PARTS);
    for (const [at, { groups, recommendations, wear, watchTallies }] of alone.entries()) {
      expect(groups.map(({ key }) => key)).toEqual([keys[at]]);
      expect(recommendations.map(({ task, group }) => [task, group])).toEqual([
        [`${PARTS[at]} check`, keys[at]],
      ]);
      expect(recommendations[0]!.wouldChange.sealsIn).toBeNull();
      expect(wear.part).toBe(PARTS[at]);
      expect(watchTallies).toHaveLength(1);
    }
    expect(new Set(stages)).toEqual(
      new Set(["fits", "wear findings", "recommendations", "watch list", "group results", "other threads"]),
    );
  });

  it("says the same whoever took which groups, those with the most lives first, each once", async () => {
    const taken: number[] = [];
    // This one takes all at once, before the thread that leads takes any.
    const other = threadHere((parts) => taken.push(...parts));
    expect(await answerParts(jobs, [other], () => {})).toEqual(alone);
    expect(taken).toEqual([1, 0, 2]);
  });

  it("has as much to say in a thread of its own", async () => {
    const others = startPartThreads(2, script);
    try {
      expect(await answerParts(jobs, others.threads, () => {})).toEqual(alone);
    } finally {
      await others.close();
    }
  });

  it("fails with the error of the thread that failed", async () => {
    const broken: PartThread = { takePieces: () => Promise.reject(new Error("no such part")) };
    await expect(answerParts(jobs, [broken], () => {})).rejects.toThrow("no such part");
    const others = startPartThreads(1, script);
    try {
      const [thread] = others.threads;
      const all: Pieces = {
        parts: jobs,
        pieces: [{ part: 0, group: 0 }],
        taken: noneTaken(),
      };
      const nonsense = { ...all, parts: [{ ...jobs[0]!, keys: null }] } as unknown as Pieces;
      await expect(thread!.takePieces(nonsense)).rejects.toThrow(/null|iterable/);
      // …and goes on with the next.
      Atomics.store(all.taken, 0, 0);
      const [answered] = await thread!.takePieces({
        ...all,
        parts: jobs.map(({ gaps: _, ...part }) => part),
      });
      expect(answered!.answers.group).toEqual(alone[0]!.groups[0]);
    } finally {
      await others.close();
    }
  });
});
