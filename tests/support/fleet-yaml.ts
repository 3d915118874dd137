/** A small fleet file for tests that need settings: one part, one task, both limits. */
export const SMALL_FLEET_YAML = `
fleet: Small test fleet
exports:
  wear:
    files: wear.csv
    unit: mm
    clock: since new
    columns: { component: Serial, date: Inspected, hours: Hours, wear: Wear, aircraft: Tail, environment: Base, standard: Ring }
environments: { Valley: temperate, Saltpan: sandy }
standards: { P: plain, S: shielded }
parts:
  - part: grip bearing
    part_numbers: [GB-1]
    replace_at: 0.50 mm
    unsafe_at: 0.80 mm
tasks:
  - task: grip bearing wear check
    part: grip bearing
    basis: programme
    reference: test programme, item 1
    interval: 300 h
    tolerance: 10%
acceptable:
  unsafe_before_seen: 0.001
  over_limit_per_inspection: 0.10
  functional_failures_per_1000h: 0.01
  detection: { chance: 0.90, reference: test }
  confidence: 0.95
`;
