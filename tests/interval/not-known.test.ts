import { describe, expect, it } from "vitest";
import { groupEvidence, type Lines } from "../../src/interval/evidence.ts";
import { notKnownOf } from "../../src/interval/not-known.ts";
import type { Life } from "../../src/records/life.ts";
import { makeLife } from "../records/make-life.ts";
import { makeFleetSettings } from "../support/make-fleet-settings.ts";

const fleet = makeFleetSettings();
const [task] = fleet.tasks;
const part = fleet.parts.find(({ part: name }) => name === task!.part)!;

/** Sentences about twelve lives of four aircraft of which some were found over the limit at 900 h. */
function sentences(events: number, change: Partial<Lines> = {}): string[] {
  const lives = Array.from(
    { length: 12 },
    (_, i): Life =>
      makeLife({
        component: i,
        aircraft: `A${i % 4}`,
        lookHours: [300, 600, 900 + i],
        lowerHours: i < events ? 600 : 900 + i,
        upperHours: i < events ? 900 + i : Number.POSITIVE_INFINITY,
        end: i < events ? "over limit found" : "still fitted",
        lastHours: 900 + i,
      }),
  );
  const key = { part: task!.part, environment: "sandy", standard: "plain" };
  const evidence = groupEvidence(key, lives, part, null, 0.95);
  return notKnownOf(evidence, { ...evidence.linesAt(0.95), ...change }, fleet, task!);
}
const assumed = (said: readonly string[]) => said.filter((sentence) => sentence.includes("is assumed"));

describe("notKnownOf(evidence, lines, fleet, task)", () => {
  it("says up to where lives are heard, where the long run is left to the wear readings", () => {
    const heard = (said: readonly string[]) => said.filter((sentence) => sentence.startsWith("Hardly any"));
    expect(heard(sentences(0, { lifeHorizon: "as followed" }))).toEqual([
      "Hardly any life was followed to the limit: lives say what they have lasted up to 902 h, and what comes after stands on the wear readings alone.",
    ]);
    expect(heard(sentences(0))).toEqual([]);
  });

  it("says that a given-shape line assumes its shape and takes no account of aircraft", () => {
    for (const events of [0, 1, 2]) {
      expect(assumed(sentences(events))).toEqual([
        "So few were found over the limit that the shape of the life line is assumed, the worst of a range counting; its bounds take every life for its own, and are too narrow where components of one aircraft are alike.",
      ]);
    }
  });

  it("does not say so of a fitted one", () => {
    expect(assumed(sentences(5))).toEqual([]);
  });
});
