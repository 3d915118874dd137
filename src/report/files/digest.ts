/** digest.txt: ten lines of plain ASCII that a person can read in a mail; what must be acted on comes first. */
import { emptyMonth } from "../../interval/empty-month.ts";
import type { Month, Recommendation } from "../../interval/month-result.ts";
import { byUrgency } from "../by-urgency.ts";
import { answerInWords, groupName, rulesOf, sentenceCase } from "../group-name.ts";
import { monthFinding } from "../month-finding.ts";
import { counted, share } from "../number-format.ts";

const LINES = 10;
const WIDTH = 200;

/** Plain ASCII: the program's own signs spelled out, anything else as a question mark, one line, no more than WIDTH. */
export function asciiLine(text: string): string {
  const plain = text
    .replace(/[\u202f\u00a0\u2009]/g, " ")
    .replace(/[\u2013\u2014\u2212]/g, "-")
    .replace(/[\u2018\u2019]/g, "'")
    .replace(/[\u201c\u201d]/g, '"')
    .replace(/\u2192/g, "->")
    .replace(/[^\x20-\x7e]/gu, "?");
  return plain.length <= WIDTH ? plain : `${plain.slice(0, WIDTH - 4)} ...`;
}

/** One line that keeps its source row whatever it must lose: without the row nobody can look it up. */
function lineWithSource(text: string, source: string): string {
  const row = asciiLine(`, ${source}`);
  const words = asciiLine(text);
  const room = WIDTH - row.length;
  if (words.length <= room || room < WIDTH / 2) return asciiLine(`${text}, ${source}`);
  return `${words.slice(0, room - 4)} ...${row}`;
}

function recommendationLine(recommendation: Recommendation): string {
  const { asked, passed } = rulesOf(recommendation);
  const name = sentenceCase(groupName(recommendation.group));
  return `${name}: ${answerInWords(recommendation)}; ${passed} of ${asked} rules passed.`;
}

/** "2 shorten, 11 keep" */
function answersInShort(recommendations: readonly Recommendation[]): string {
  const answers = ["shorten", "extend", "keep", "not enough evidence"] as const;
  const counts = answers.map((answer) => ({
    answer,
    count: recommendations.filter(({ recommendation }) => recommendation === answer).length,
  }));
  return counts
    .filter(({ count }) => count > 0)
    .map(({ answer, count }) => `${count} ${answer}`)
    .join(", ");
}

/** The first of `all` that fit into `room` lines; where more are left the last line says how many. */
function fitted(all: readonly string[], room: number, more: (left: number) => string): readonly string[] {
  if (all.length <= room) return all;
  return room <= 0 ? [] : [...all.slice(0, room - 1), more(all.length - room + 1)];
}

/** The text of digest.txt: at most ten lines. */
export function digest(month: Month): string {
  const { fleet, actNow, inputs } = month;
  const read = inputs.reduce((sum, input) => sum + input.read, 0);
  const rejected = inputs.reduce((sum, input) => sum + input.rejected, 0);
  const alerts = month.trends.filter((trend) => trend.alert).length;
  const last = [
    `${counted(alerts, "removal alert")}; ${counted(month.watchList.length, "component")} on the watch list.`,
    `${counted(read, "row")} read, ${rejected} rejected (${share(read === 0 ? 0 : rejected / read)}); see data.html.`,
    "This report changes no interval: the approved data, the type-certificate holder and the authority decide.",
  ];
  const missing = emptyMonth(month);
  const act = actNow.map((line) =>
    lineWithSource(
      `ACT NOW: ${line.kind}: ${line.serial}, ${line.where}: ${line.found} (limit: ${line.limit})`,
      line.source,
    ),
  );
  if (missing !== null) act.unshift(`ACT NOW: ${missing}`);
  const first = `${fleet.name}, ${monthFinding(month)}.`;
  const room = LINES - 1 - last.length;
  const acts = fitted(act, room - 1, (left) => `ACT NOW: ${left} more; see index.html.`);
  const ordered = byUrgency(month);
  const answers = fitted(
    ordered.map(recommendationLine),
    room - acts.length,
    (left) =>
      `${answersInShort(ordered.slice(-left))}${left < ordered.length ? " besides" : ""}; see index.html.`,
  );
  return [first, ...acts, ...answers, ...last].map((line) => `${asciiLine(line)}\n`).join("");
}
