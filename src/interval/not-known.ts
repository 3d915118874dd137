/** What the data can't say about a group, in sentences for the officer's page. */
import type { Fleet, Task } from "../fleet/fleet.ts";
import { roundedDigits } from "../math/rounded.ts";
import { componentCount, type Life } from "../records/life.ts";
import type { GroupEvidence, Lines } from "./evidence.ts";

export function notKnownOf(
  { key, part, lives, modelled, readings, greatestAgeH }: GroupEvidence,
  lines: Lines,
  fleet: Fleet,
  task: Task,
): string[] {
  const sentences: string[] = [];
  if (modelled !== lives) sentences.push(modelledSentence(modelled, lives));
  const n = readings.table.components;
  if (n > 0) {
    const share = Math.min(1, 3 / n);
    sentences.push(
      `${n} components were read. A share of up to ${roundedDigits(100 * share, 2, "up")} % that wears otherwise can't be excluded by that number alone.`,
    );
  }
  sentences.push(
    greatestAgeH > 0
      ? `Beyond ${Math.round(greatestAgeH)} h fewer than 10 components of 3 aircraft were at risk; what is said beyond rests on the fitted curves.`
      : "At no age were 10 components of 3 aircraft at risk; what is said rests on the fitted curves.",
  );
  if (lines.life.kind === "line" && lines.lifeHorizon === "as followed")
    sentences.push(
      `Hardly any life was followed to the limit: lives say what they have lasted up to ${Math.round(greatestAgeH)} h, and what comes after stands on the wear readings alone.`,
    );
  if (part.unsafeAtMm === null)
    sentences.push(`No unsafe-at limit is given for the ${part.part}; the unsafe risk can't be computed.`);
  else if (fleet.acceptable.detectionChance === null)
    sentences.push("No detection chance is given; the unsafe risk can't be computed.");
  else
    sentences.push(
      `Past the replace-at limit wear is taken to be ${part.beyondLimitFactor} times as fast; that was not measured here.`,
    );
  if (lines.wear.kind === "none") {
    const lent = lines.borrowed.some(({ method }) => method === "wear");
    const none = lent ? "Of its own this group has no wear line" : "The wear line can't be used";
    sentences.push(`${none}: ${lines.wear.why}.`);
  }
  if (lines.life.kind === "line" && lines.life.givenShape)
    sentences.push(
      "So few were found over the limit that the shape of the life line is assumed, the worst of a range counting; its bounds take every life for its own, and are too narrow where components of one aircraft are alike.",
    );
  if (lines.life.kind === "none") sentences.push(`The life line can't be used: ${lines.life.why}.`);
  const moved = lives.filter(({ piece }) => piece > 1).length;
  if (moved > 0) {
    sentences.push(
      `${moved} ${moved === 1 ? "component came" : "components came"} here from another environment or standard; they speak through the life line only.`,
    );
  }
  const atNoHours = lives.filter(({ upperHours }) => upperHours === 0).length;
  if (atNoHours > 0)
    sentences.push(
      `${atNoHours} ${atNoHours === 1 ? "was" : "were"} found over the limit at 0 h. A life in hours can't say anything of that: they are counted, and left out of the life line. See whether their hours are recorded rightly.`,
    );
  if (task.calendarMonths !== null)
    sentences.push(
      `The calendar limit of ${task.calendarMonths} months of ${key.part} is not studied here and stands.`,
    );
  return sentences;
}

/** Said first, since every number of a fit stands on it. */
const modelledSentence = (modelled: readonly Life[], lives: readonly Life[]): string =>
  `Fits and bounds stand on ${componentCount(modelled)} of the ${componentCount(lives)} components: whole aircraft, taken by a rule that knows nothing of wear (method.html). Looks, finds, failures and the watch list count all.`;
