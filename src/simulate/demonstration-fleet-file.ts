/** The fleet file of the demonstration: what a maintenance office would write for these exports. */

export const DEMONSTRATION_FLEET_FILE = `# Fleet file of the demonstration: an invented operator that flies surveys and supply between salt pans, a coast,
# highlands and a temperate valley. Written by "rotorwear simulate"; the truth behind it is in truth.json, the faults
# planted in the exports in faults.json.

fleet: Saltpan and Highland demonstration fleet

exports:
  wear: # one row per look at one bearing; the word SAT or US where nobody wrote a number
    files: exports/wear-*.csv
    exported: { from: name, pattern: "wear-{yyyy}-{MM}.csv" }
    format: { delimiter: ";", decimal: ",", encoding: windows-1252, dates: dd.MM.yyyy }
    unit: mm
    clock: since new
    columns:
      component: Serial
      date: Inspected
      hours: Hours
      wear: "Wear [mm]"
      aircraft: Tail
      part: Part no
      position: Arm
      environment: Base
      standard: Ring
  gaps: # seal gaps by aircraft and arm, as found and as left
    files: exports/gaps-*.csv
    exported: { from: name, pattern: "gaps-{yyyy}-{MM}.csv" }
    unit: mm
    clock: since new # hours of the bearing behind the seal
    columns: { aircraft: Tail, position: Arm, date: Date, hours: Hours, gap: Gap, state: State, standard: Ring }
  removals:
    files: exports/removals-*.csv
    exported: { from: name, pattern: "removals-{yyyy}-{MM}.csv" }
    format: { delimiter: ";", decimal: ".", encoding: utf-8, dates: dd.MM.yyyy }
    clock: since new
    columns:
      component: Serial
      part: Part no
      date: Removed
      hours: Hours
      cause: Reason
      found: Found
      finding: Shop finding
      aircraft: Tail
      position: Arm
      environment: Base
      standard: Ring
  installed: # what is fitted at the end of the last month
    files: exports/installed-*.csv
    exported: { from: name, pattern: "installed-{yyyy}-{MM}.csv" }
    format: { delimiter: ";", decimal: ",", encoding: windows-1252, dates: dd.MM.yyyy }
    clock: since new
    columns:
      component: Serial
      part: Part no
      installed_on: Installed
      hours_at_installation: Hours at installation
      hours_now: Hours now
      aircraft: Tail
      position: Arm
      environment: Base
      standard: Ring
  flying:
    files: exports/flying-*.csv
    exported: { from: name, pattern: "flying-{yyyy}-{MM}.csv" }
    columns: { month: Month, aircraft: Tail, environment: Base, hours: Hours }

# Recorded words, and what they mean.
environments: { Saltpan North: sandy, Saltpan South: sandy, Coast: coastal, Highland: highland, Valley: temperate }
standards: { P: plain, S: shielded }
gap_states: { F: found, L: left }
found_at: { INSP: inspection, SVC: service } # service: it came to light between looks
findings: { CONF: confirmed, NFF: no fault found }
wear_words: { SAT: below limit, US: over limit }
causes:
  wear: [WORN, LINER WORN]
  seal: [SEAL LEAK]
  not a failure: [TIME EXPIRED, CONVENIENCE, MODIFICATION]

parts:
  - part: grip bearing
    part_numbers: [GB-100-1, GB-100-3]
    replace_at: 0.50 mm
    replace_at_reference: maintenance data, rotor head chapter, table 6, revision 9
    unsafe_at: 0.80 mm
    beyond_limit_factor: 1.5
  - part: link bearing # nobody has said at what wear its function is lost
    part_numbers: [LB-220-1]
    replace_at: 0.30 mm
    replace_at_reference: maintenance data, rotor head chapter, table 7, revision 9

seal_gaps:
  - { standard: shielded, tolerance: 0 mm to 1.00 mm }

tasks:
  - task: grip bearing wear check
    part: grip bearing
    basis: programme
    reference: maintenance programme, item 62-11, revision 14
    interval: 400 h
    tolerance: 10%
    calendar: 24 months
    except:
      - { environment: sandy, interval: 200 h }
      - { environment: coastal, interval: 300 h }
    man_hours: 14
  - task: link bearing wear check
    part: link bearing
    basis: airworthiness limitation # so it may be shortened, never extended
    reference: airworthiness limitations, item 62-30, revision 5
    interval: 300 h
    tolerance: 10%
    except: [{ environment: sandy, interval: 150 h }]
    man_hours: 6

decisions: # the approved ones are the history of the interval
  - { task: grip bearing wear check, environment: temperate, interval: 400 h, on: 2022-06-01, outcome: approved, reference: board minute 22-03 }
  - { task: grip bearing wear check, environment: highland, interval: 400 h, on: 2022-06-01, outcome: approved, reference: board minute 22-03 }
  - { task: grip bearing wear check, environment: sandy, interval: 200 h, on: 2023-05-01, outcome: approved, reference: board minute 23-02 }
  - { task: grip bearing wear check, environment: coastal, standard: plain, interval: 350 h, on: 2024-09-20, outcome: refused, revisit: 40 lives over 3000 h, reference: board minute 24-05 }
  - { task: grip bearing wear check, environment: temperate, standard: plain, interval: 450 h, on: 2025-09-18, outcome: deferred, revisit: the review of September 2026, reference: board minute 25-04 }

reviews: [2026-09, 2027-09] # months in which an extension may be decided

acceptable:
  unsafe_before_seen: 0.001
  over_limit_per_inspection: 0.10
  functional_failures_per_1000h: 0.01
  detection: { chance: 0.90, reference: "inspection trial of the invented operator, report 7" }
  confidence: 0.95

evidence: {} # every threshold at its default

alerts: { method: poisson, window: 12 months }

interval_steps: { step: 50 h, largest_change: 50% }
`;
