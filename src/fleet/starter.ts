/** A first fleet file, commented, with columns and words guessed from exports (`rotorwear init DIR`). */
import type { FieldName } from "./fleet.ts";
import type { SeenFile } from "./starter-columns.ts";
import { byHandLines, exportLines, recorded, type StarterExport, sortFiles } from "./starter-exports.ts";
import { FILL_IN, yaml } from "./starter-text.ts";
import { type GuessedWord, guessMeanings, isWord } from "./starter-words.ts";

/**
 * The text of a fleet file for exports that were seen. What was guessed is marked "check", what must be known FILL IN.
 *
 * @param files  exports with their headings and sample rows; the more rows, the more recorded words are listed
 */
export function starterFleet(files: readonly SeenFile[]): string {
  const { exports, leftOut } = sortFiles(files);
  const parts = guessParts(recorded(exports, "part"));
  return [
    ...HEAD,
    "exports:",
    ...(exports.length === 0
      ? [`  wear: ${FILL_IN}   # no wear export was recognised`]
      : exports.flatMap((entry) => exportLines(entry, exports))),
    ...leftOut.map((line) => `  # not taken: ${line}`),
    ...byHandLines(exports, leftOut),
    "",
    ...wordLines(exports),
    ...partLines(parts),
    ...taskLines(parts),
    ...TAIL,
    "",
  ].join("\n");
}

function wordLines(exports: readonly StarterExport[]): string[] {
  const section = (name: string, comment: string, words: readonly GuessedWord[]): string[] =>
    words.length === 0
      ? []
      : [
          `${name}:   # ${comment}`,
          ...words.map(([word, meaning]) =>
            meaning === null ? `  # ${yaml(word)}: ${FILL_IN}` : `  ${yaml(word)}: ${yaml(meaning)}`,
          ),
          "",
        ];
  const own = (field: FieldName) =>
    recorded(exports, field).map((word): GuessedWord => [word, ownName(word)]);
  const fixed = (field: FieldName) => guessMeanings(field, recorded(exports, field));
  const wearWords = guessMeanings("wear", recorded(exports, "wear", isWord));
  return [
    ...section(
      "environments",
      "recorded word: environment. Several may mean one; names are yours",
      own("environment"),
    ),
    ...section("standards", "recorded word: hardware standard", own("standard")),
    ...section("gap_states", "recorded word: found or left. Check", fixed("state")),
    ...section("found_at", "recorded word: inspection or service (between looks). Check", fixed("found")),
    ...section("findings", "recorded word: confirmed or no fault found. Check", fixed("finding")),
    ...section("wear_words", "in place of a reading: below limit or over limit. Check", wearWords),
    ...causeLines(fixed("cause")),
  ];
}

/** What to call what a recorded word means, until a person names it. */
const ownName = (word: string): string => (word.length > 3 ? word.toLowerCase() : word);

/** Causes by mode; those of no likely mode are a mode of their own, so that they are counted and seen. */
function causeLines(causes: readonly GuessedWord[]): string[] {
  if (causes.length === 0) return [];
  const modes = ["wear", "seal", "other", "not a failure"];
  return [
    "causes:   # failure mode: recorded causes. Check: wear is the mode that the limits are about",
    ...modes.flatMap((mode) => {
      const words = causes.filter(([, meaning]) => (meaning ?? "other") === mode).map(([word]) => yaml(word));
      return words.length === 0 ? [] : [`  ${mode}: [${words.join(", ")}]`];
    }),
    "",
  ];
}

/** Part numbers that begin with the same letters are taken for one part, as long as that makes few parts. */
function guessParts(numbers: readonly string[]): { part: string; numbers: readonly string[] }[] {
  const families = new Map<string, string[]>();
  for (const number of numbers) {
    const letters = /^[A-Za-z]*/.exec(number)![0];
    families.set(letters, [...(families.get(letters) ?? []), number]);
  }
  if (families.size < 2 || families.size > MOST_PARTS) return [{ part: "component", numbers }];
  return [...families].map(([letters, members]) => ({
    part: `component ${letters}`.trim(),
    numbers: members,
  }));
}
const MOST_PARTS = 6;

function partLines(parts: readonly { part: string; numbers: readonly string[] }[]): string[] {
  return [
    "parts:   # kinds of components. Check which part numbers belong together",
    ...parts.flatMap(({ part, numbers }) => [
      `  - part: ${yaml(part)}`,
      ...(numbers.length === 0 ? [] : [`    part_numbers: [${numbers.map(yaml).join(", ")}]`]),
      `    replace_at: ${FILL_IN}   # such as 0.50 mm: where the maintenance data says replace`,
    ]),
    "    # replace_at_reference: where the maintenance data says so",
    "    # unsafe_at: the wear at which the function is lost or endangered, if the engineering authority has set it",
    "",
  ];
}

const taskLines = (parts: readonly { part: string }[]): string[] => [
  "tasks:",
  ...parts.flatMap(({ part }) => [
    `  - task: ${yaml(`${part} wear check`)}`,
    `    part: ${yaml(part)}`,
    "    basis: airworthiness limitation   # nothing is extended until this says programme",
    `    interval: ${FILL_IN}   # such as 600 h: what is approved now`,
    "    tolerance: 10%   # how late a look may be",
  ]),
  "    # reference: document, revision, item",
  "    # except: [ { environment: sandy, interval: 300 h } ]   # where another interval is approved",
  "",
];

const HEAD = [
  "# A first fleet file. Look at every line marked check, and replace every FILL IN; then: rotorwear check fleet.yaml",
  "fleet: our fleet",
  "",
];

const TAIL = [
  "# decisions:   # what the authority did; approved ones are the interval's history",
  "#   - { task: …, interval: 600 h, on: 2023-05-01, outcome: approved, reference: … }",
  "# reviews: [2026-04, 2027-04]   # months in which an extension may be decided",
  "",
  "acceptable:   # check: what your authority accepts; these are only examples",
  "  unsafe_before_seen: 0.001",
  "  over_limit_per_inspection: 0.10",
  "  functional_failures_per_1000h: 0.01",
  "  # detection: { chance: 0.90, reference: … }   # that one look is properly made and sees it",
  "  confidence: 0.95",
  "alerts: { method: poisson, window: 12 months }",
  "interval_steps: { step: 50 h, largest_change: 50% }",
];
