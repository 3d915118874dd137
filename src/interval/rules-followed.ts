/** Evidence rules about how far components were followed, and the oldest ones. */
import type { Life } from "../records/life.ts";
import { highestWearMm, readingCount } from "../records/life-readings.ts";
import { type EvidenceRule, notApplicable, percent, verdict } from "./rule-outcome.ts";

const aircraftOf = (lives: readonly Life[]): number => new Set(lives.map(({ aircraft }) => aircraft)).size;

export const FOLLOWED_RULES: readonly EvidenceRule[] = [
  {
    rule: "followed far enough",
    asks: "Were components followed to where the limit is near, or will hardly any get there soon?",
    evaluate: ({ lives, tenPercentHours, fleet, group, checks }) => {
      const { componentsFollowed, aircraftFollowed, wearReadBeyondShareOfLimit } = fleet.evidence;
      const limitMm = fleet.parts.find(({ part }) => part === group.part)!.replaceAtMm;
      const farMm = wearReadBeyondShareOfLimit * limitMm;
      const toAge =
        tenPercentHours === null ? [] : lives.filter(({ lastHours }) => lastHours >= tenPercentHours);
      const toWear = lives.filter((life) => (highestWearMm(life) ?? 0) >= farMm);
      const enough = (some: readonly Life[]) =>
        some.length >= componentsFollowed && aircraftOf(some) >= aircraftFollowed;
      const age =
        tenPercentHours === null
          ? "no life fit tells that age"
          : `${toAge.length} followed to ${Math.round(tenPercentHours)} h`;
      return verdict(
        enough(toAge) || enough(toWear) || (checks.farFromLimit?.passed ?? false),
        `${age}; ${toWear.length} read beyond ${percent(wearReadBeyondShareOfLimit)} of the limit; ${checks.farFromLimit?.found ?? "no wear fit to say how many get there soon"}`,
        `${componentsFollowed} components of ${aircraftFollowed} aircraft, to the age at which 10 % are over or beyond ${farMm.toFixed(2)} mm; or at most ${percent(fleet.evidence.nearLimitSoon)} of those fitted beyond it by two more looks`,
        `${Math.max(0, componentsFollowed - Math.max(toAge.length, toWear.length))} more components followed that far`,
      );
    },
  },
  {
    rule: "components for a small unsafe risk",
    asks: "Are there enough components to rely on a small unsafe risk?",
    evaluate: ({ lives, atCandidate, fleet }) => {
      const needed = fleet.evidence.componentsForSmallUnsafeRisk;
      const risk = atCandidate.unsafeBeforeSeen;
      const components = new Set(
        lives.filter((life) => readingCount(life) > 0).map(({ component }) => component),
      ).size;
      if (risk !== null && risk.estimate >= 0.01)
        return notApplicable(`unsafe risk ${percent(risk.estimate)}`, "asked below 1 %");
      return verdict(
        components >= needed,
        `${components} components with readings`,
        `${needed} components to rely on a risk below 1 %`,
        `${needed - components} more components with readings`,
      );
    },
  },
  {
    rule: "early removals",
    asks: "Are few of the over-limit events removals below the limit?",
    evaluate: ({ lives, fleet }) => {
      const needed = fleet.evidence.earlyRemovals;
      const events = lives.filter(({ upperHours }) => upperHours !== Number.POSITIVE_INFINITY).length;
      const early = lives.filter(({ end }) => end === "early removal").length;
      return verdict(
        events === 0 || early / events <= needed,
        `${early} of ${events} events`,
        `at most ${percent(needed)}`,
        "components left in until a look finds them at the limit, or a lower limit set",
      );
    },
  },
  {
    rule: "oldest component",
    asks: "Is the oldest component fitted likely to be good at its next look?",
    evaluate: ({ oldest, fleet, atCandidate: { intervalH } }) => {
      const needed = 2 * fleet.acceptable.overLimitPerInspection;
      // What its own readings say is a chance already; what the group's curves say has a bound, and the bound counts.
      const chance = oldest?.chanceNextLook.upper ?? oldest?.chanceNextLook.estimate ?? null;
      return verdict(
        chance !== null && chance <= needed,
        oldest === null || chance === null
          ? "no component fitted, or nothing with a bound to say of it"
          : `${oldest.serial} at ${Math.round(oldest.hours)} h: ${oldest.chanceNextLook.upper === null ? "" : "at most "}${percent(chance)} after ${intervalH} h more`,
        `at most ${percent(needed)}`,
        oldest === null ? "what would give the group a bound" : "its look, or its replacement",
      );
    },
  },
];
