/** A whole fleet file with every key, invented; tests change a line of it and look at what is said. */
export const EXAMPLE = `# an invented fleet
fleet: Saltpan and Highland demonstration fleet
exports:
  wear:
    files: exports/wear-*.csv
    exported: { from: name, pattern: "wear-{yyyy}-{MM}.csv" }
    format: { delimiter: ";", decimal: ",", encoding: windows-1252, dates: dd.MM.yyyy }
    unit: mm
    clock: since new
    columns: { component: Serial, date: Inspected, hours: Hours, wear: Wear, aircraft: Tail, part: Part no, position: Arm, environment: Base, standard: Ring }
  gaps:
    files: [exports/gaps-1.csv, exports/gaps-2.csv]
    unit: { column: Unit }
    columns: { aircraft: Tail, position: Arm, date: Date, hours: Hours, gap: Gap, state: State, standard: Ring }
  removals:
    files: exports/removals.csv
    exported: { column: Exported }
    columns: { component: Serial, date: Removed, hours: Hours, cause: Cause, found: Found at, finding: Finding, part: Part no }
  installed:
    files: exports/installed.csv
    columns: { component: Serial, installed_on: Since, hours_at_installation: Hours, hours_now: Now, aircraft: Tail, position: Arm, part: Part no }
  flying:
    files: exports/flying.csv
    format: { dates: yyyy-MM }
    columns: { month: Month, aircraft: Tail, environment: Base, hours: Flown }
environments: { Saltpan: sandy, Highland: temperate, 12: temperate }
standards: { S: shielded, P: plain }
gap_states: { F: found, L: left }
found_at: { INSP: inspection, SVC: service }
findings: { CONF: confirmed, NFF: no fault found }
wear_words: { SAT: below limit, US: over limit }
causes:
  wear: [WORN, LINER WORN]
  seal: SEAL LEAK
  not a failure: [TIME EXPIRED, CONVENIENCE]
parts:
  - part: grip bearing
    part_numbers: [GB-100-1, 0012, 1E5]
    replace_at: 0.50 mm
    replace_at_reference: maintenance data, where it says so
    unsafe_at: 0.80 mm
    beyond_limit_factor: 1.5
seal_gaps:
  - { standard: shielded, tolerance: 0 mm to 1.00 mm }
tasks:
  - task: grip bearing wear check
    part: grip bearing
    basis: programme
    reference: document, revision, item
    interval: 600 h
    tolerance: 10%
    calendar: 12 months
    except: [ { standard: plain, interval: 200 h }, { environment: sandy, interval: 300 h } ]
    man_hours: 14
decisions:
  - { task: grip bearing wear check, environment: sandy, interval: 300 h, on: 2023-05-01, outcome: approved, reference: minute 4 }
  - { task: grip bearing wear check, standard: shielded, interval: 800 h, on: 2026-03-12, outcome: refused, revisit: 20 lives over 700 h }
reviews: [ 2027-04, 2026-04 ]
acceptable:
  unsafe_before_seen: 0.001
  over_limit_per_inspection: 0.10
  functional_failures_per_1000h: 0.01
  detection: { chance: 0.90, reference: a trial }
  confidence: 0.95
evidence: {}
alerts: { method: poisson, window: 12 months }
interval_steps: { step: 50 h, largest_change: 50% }
`;

/** The least that a fleet file must say. */
export const LEAST = `fleet: one part
exports:
  wear:
    files: wear.csv
    columns: { component: Serial, date: Date, hours: Hours, wear: Wear }
parts:
  - { part: bearing, replace_at: 20 thou }
tasks:
  - { task: check, part: bearing, basis: programme, interval: 600 h }
`;

/** The example with one text for another; fails where the text isn't there, so that no test passes by a typing error. */
export function changed(from: string, to: string, text = EXAMPLE): string {
  if (!text.includes(from)) throw new Error(`the example has no ${from}`);
  return text.replace(from, to);
}

/** Line of the first place of a text, from 1. */
export const lineOf = (part: string, text = EXAMPLE): number =>
  text.slice(0, text.indexOf(part)).split("\n").length;
