/** One fleet of the study, judged and set against the truth: a line of the study's record. */
import { excessOf, type TruthBook } from "./cells.ts";
import { decideStudyFleet, readStudyFleet, type StudyDecision } from "./decide-fleet.ts";
import { idealLongest } from "./ideal.ts";
import type { StudyJob } from "./jobs.ts";
import { drawFleet, GRID_H, PRESENT_H, ratioOf, type StudyFleet } from "./kinds.ts";
import type { TrueRisks } from "./truth.ts";

/** What became of one fleet. Intervals in flight hours; risks as true risk over acceptable risk, the worse of the two. */
export interface StudyLine extends StudyFleet {
  /** Drawn besides the others to measure power, from fleets that could show it. */
  readonly forPower: boolean;
  /** True longest interval on the grid; 0 where not even the shortest is acceptable. */
  readonly longestH: number;
  /** What the program's risks would allow if the rates were known exactly; null where that isn't defined. */
  readonly idealH: number | null;
  readonly components: number;
  readonly looks: number;
  readonly events: number;
  readonly row: number | null;
  readonly answer: string | null;
  readonly candidateH: number | null;
  readonly recommendedH: number | null;
  /** Rules that failed at the candidate. */
  readonly failed: readonly string[];
  /** Upper bounds at the present interval over the true risk: under 1 it missed on the unsafe side; null: no bound. */
  readonly bounds: {
    readonly life: number | null;
    readonly wear: number | null;
    readonly unsafe: number | null;
  };
  readonly excessAtPresent: number;
  /** At the interval it was extended to; null without an extension. */
  readonly excessExtended: number | null;
  /** The first of three yearly reviews that extended, 1 to 3; null: none did. Asked of some fleets where every extension is unsafe. */
  readonly everExtended: { readonly review: number | null } | null;
}

/** Every third seed is followed through all its reviews. */
const FOLLOWED_ON = 3;

export async function studyFleet({ kind, seed, forPower }: StudyJob, truth: TruthBook): Promise<StudyLine> {
  const drawn = drawFleet(kind, seed);
  const median = truth.medianOf(drawn);
  const read = await readStudyFleet(drawn, median);
  const atPresent = truth.risksAt(drawn, PRESENT_H);
  const first = decideStudyFleet(read, read.reviews[0]!);
  const longestH = Math.max(0, ...GRID_H.filter((hours) => hours <= ratioOf(drawn.ratioStep) * PRESENT_H));
  const extended = extendedTo(first);
  const everyExtensionUnsafe = longestH <= PRESENT_H && seed % FOLLOWED_ON === 0;
  let review: number | null = extended === null ? null : 1;
  if (everyExtensionUnsafe) {
    for (let j = 2; j <= 3 && review === null; j++) {
      if (extendedTo(decideStudyFleet(read, read.reviews[j - 1]!)) !== null) review = j;
    }
  }
  return {
    ...drawn,
    forPower,
    longestH,
    ...found(drawn, median, first),
    bounds: boundsOverTruth(first, atPresent),
    excessAtPresent: excessOf(atPresent),
    excessExtended: extended === null ? null : excessOf(truth.risksAt(drawn, extended)),
    everExtended: everyExtensionUnsafe ? { review } : null,
  };
}

const extendedTo = (decision: StudyDecision | null): number | null =>
  decision?.judged.decided.answer === "extend" ? decision.judged.decided.recommendedH : null;

function boundsOverTruth(decision: StudyDecision | null, truth: TrueRisks): StudyLine["bounds"] {
  const at = decision?.judged.risks.find(({ intervalH }) => intervalH === PRESENT_H);
  const ratio = (bound: { upper: number | null } | null | undefined, risk: number) =>
    bound?.upper == null || risk === 0 ? null : bound.upper / risk;
  return {
    life: ratio(at?.overLimitPerInspection.life, truth.overLimit),
    wear: ratio(at?.overLimitPerInspection.wear, truth.overLimit),
    unsafe: ratio(at?.unsafeBeforeSeen, truth.unsafe),
  };
}

type Found = Pick<
  StudyLine,
  "idealH" | "components" | "looks" | "events" | "row" | "answer" | "candidateH" | "recommendedH" | "failed"
>;

function found(drawn: StudyFleet, median: number, decision: StudyDecision | null): Found {
  if (decision === null) {
    return {
      ...{ idealH: null, components: 0, looks: 0, events: 0, row: null, answer: null },
      ...{ candidateH: null, recommendedH: null, failed: [] },
    };
  }
  const { decided, outcomes } = decision.judged;
  const { lives, readings, greatestAgeH, unsafeSetting } = decision.evidence;
  return {
    idealH: idealLongest(drawn, median, greatestAgeH, unsafeSetting),
    components: new Set(readings.table.component).size,
    looks: lives.reduce((sum, { lookHours }) => sum + lookHours.length, 0),
    events: lives.filter(({ upperHours }) => upperHours !== Number.POSITIVE_INFINITY).length,
    row: decided.row,
    answer: decided.answer,
    candidateH: decided.candidateH,
    recommendedH: decided.recommendedH,
    failed: outcomes.filter(({ outcome }) => outcome === "failed").map(({ rule }) => rule),
  };
}
