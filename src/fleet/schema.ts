/**
 * The shape of a fleet file, as zod sees it: every key, what it takes, and what it means (the descriptions become the
 * JSON schema that editors read). All scalars arrive as the text that stands in the file, so that a part number 0012
 * or 1E5 stays what it is; quantities are read here. What keys mean together is checked in check-fleet.ts.
 */
import { z } from "zod";
import { LEAST_MODELLED_COMPONENTS } from "./defaults.ts";
import { readDay, readLengthRangeMm, readMonth, readMonths, readNumber, readShare } from "./quantity.ts";
import { exportsSchema } from "./schema-exports.ts";
import {
  bounded,
  chance,
  count,
  hours,
  length,
  quantity,
  share,
  text,
  textOrList,
  words,
} from "./schema-fields.ts";

const part = z.strictObject({
  part: text("Name of the part"),
  part_numbers: z.array(text("A part number, successors included")).optional(),
  replace_at: length("Wear at which the maintenance data says replace", "0.50 mm"),
  replace_at_reference: text("Where the maintenance data says so").optional(),
  unsafe_at: length("Wear at which the function is lost or endangered", "0.80 mm").optional(),
  beyond_limit_factor: bounded(
    readNumber,
    (v) => v >= 1,
    "a number of 1 or more",
    "How much faster it may wear past replace_at",
    "1.5",
  ).optional(),
});

const sealGap = z.strictObject({
  standard: text("A standard"),
  tolerance: quantity(readLengthRangeMm, "Seal gap allowed, from low to high", "0 mm to 1.00 mm"),
});

const exception = z.strictObject({
  environment: text("An environment").optional(),
  standard: text("A standard").optional(),
  interval: hours("Interval approved there", "300 h"),
});

const task = z.strictObject({
  task: text("Name of the task"),
  part: text("Name of the part it looks at"),
  basis: z
    .enum(["programme", "airworthiness limitation", "directive"])
    .meta({ description: "Only a programme interval may be extended" }),
  reference: text("Document, revision, item").optional(),
  interval: hours("Interval approved now", "600 h"),
  tolerance: share("How late a look may be, as a share of the interval", "10%").optional(),
  calendar: quantity(readMonths, "Calendar limit; printed, never extended", "12 months").optional(),
  except: z
    .array(exception)
    .optional()
    .meta({ description: "Where another interval is approved; the shortest counts" }),
  man_hours: bounded(readNumber, (v) => v >= 0, "a number of 0 or more", "Work of one look", "14").optional(),
});

const decision = z.strictObject({
  task: text("Name of the task"),
  environment: text("An environment").optional(),
  standard: text("A standard").optional(),
  interval: hours("Interval decided on", "300 h"),
  on: quantity(readDay, "Date of the decision", "2026-03-12"),
  outcome: z.enum(["approved", "refused", "deferred", "trial"]),
  reference: text("Document that holds the decision").optional(),
  revisit: text(
    "What must be met before it is proposed again, as: 20 lives over 700 h; 12 more looks; 2026-09; or the name of an evidence rule. Several: joined by and",
  ).optional(),
  promised: chance("Share of looks over limit that an approval or trial was granted on", "0.03").optional(),
});

const acceptable = z.strictObject({
  unsafe_before_seen: chance("Chance that a component is unsafe before a look sees it", "0.001").optional(),
  over_limit_per_inspection: chance("Share of looks that find a component over its limit", "0.10").optional(),
  functional_failures_per_1000h: bounded(
    readNumber,
    (v) => v > 0,
    "a number over 0",
    "Functional failures per 1000 flight hours",
    "0.01",
  ).optional(),
  detection: z
    .strictObject({
      chance: chance("Chance that one look is properly made and sees it; no default", "0.90"),
      reference: text("Where that chance comes from").optional(),
    })
    .optional(),
  confidence: bounded(
    readShare,
    (v) => v > 0.5 && v < 1,
    "a confidence over 0.5 and under 1",
    "Confidence of every one-sided bound",
    "0.95",
  ).optional(),
});

const evidence = z.strictObject({
  minimum_lives: count("Lives a group needs", "20").optional(),
  minimum_aircraft: count("Aircraft a group needs", "5").optional(),
  largest_aircraft_share: share("Largest share of the lives from one aircraft", "40%").optional(),
  looks_at_present_interval: count("Looks at the present interval since the last change", "60").optional(),
  present_interval_band: share("How far from the interval a look still counts", "15%").optional(),
  components_followed: count("Components followed to the age that matters", "10").optional(),
  aircraft_followed: count("Aircraft that they come from", "3").optional(),
  wear_read_beyond_share_of_limit: share("Share of replace_at beyond which wear was read", "0.7").optional(),
  components_for_small_unsafe_risk: count("Components behind an unsafe risk below 0.01", "60").optional(),
  readings_complete: share("Share of due looks that have a number", "90%").optional(),
  early_removals: share("Largest share of early removals", "20%").optional(),
  near_limit_soon: share(
    "Largest share of fitted components near the limit by two more looks",
    "10%",
  ).optional(),
  fit_change: share("Largest change of the risk by the best alternative", "20%").optional(),
  lines_agree_p: share("Least p of predicted against found", "0.05").optional(),
  borrow_p: chance(
    "Least p that groups are alike, for a thin one to borrow from the others",
    "0.05",
  ).optional(),
  upper_exponent: bounded(
    readNumber,
    (v) => v > 0,
    "a number over 0",
    "Largest upper bound of the wear exponent",
    "1.2",
  ).optional(),
  rejected_rows: share("Largest share of rows that are rejected or have words not known", "2%").optional(),
});

const step = hours("An interval of the grid", "50 h");
const intervalSteps = z.union([
  z.strictObject({
    step,
    largest_change: share("Largest change at one time, as a share of the interval", "50%").optional(),
  }),
  z.array(step).min(1),
]);

/** The whole fleet file. */
export const fleetSchema = z.strictObject({
  fleet: text("Name of the fleet, as pages print it"),
  exports: exportsSchema,
  environments: words(text("An environment"), "Recorded word: environment"),
  standards: words(text("A standard"), "Recorded word: hardware standard"),
  gap_states: words(z.enum(["found", "left"]), "Recorded word: found or left"),
  found_at: words(z.enum(["inspection", "service"]), "Recorded word: inspection or service (between looks)"),
  findings: words(z.enum(["confirmed", "no fault found"]), "Recorded word: what the shop found"),
  wear_words: words(z.enum(["below limit", "over limit"]), "Recorded word in place of a reading"),
  causes: words(textOrList("A recorded cause, or a list"), "Failure mode, or not a failure: recorded causes"),
  parts: z.array(part).min(1),
  seal_gaps: z.array(sealGap).optional(),
  tasks: z.array(task).min(1),
  decisions: z.array(decision).optional(),
  reviews: z
    .array(quantity(readMonth, "A month in which an extension may be decided", "2026-04"))
    .min(1)
    .optional(),
  acceptable: acceptable.optional(),
  evidence: evidence.optional(),
  alerts: z
    .strictObject({
      method: z.enum(["poisson"]).optional(),
      window: quantity(readMonths, "Months that the alert level looks back on", "12 months").optional(),
    })
    .optional(),
  interval_steps: intervalSteps.optional(),
  modelled_components: bounded(
    readNumber,
    (v) => Number.isInteger(v) && v >= LEAST_MODELLED_COMPONENTS,
    `a whole number from ${LEAST_MODELLED_COMPONENTS}`,
    "Components of a group that its models see; of a larger one, whole aircraft up to about so many",
    "1000",
  ).optional(),
});

/** A fleet file whose every key has the right shape. */
export type FleetFile = z.output<typeof fleetSchema>;
export type ExportEntry = NonNullable<FleetFile["exports"]["wear"]>;
