/** Puts the study's table where it is read: the source of method.html, and the README. */
import { execFileSync } from "node:child_process";
import { readFileSync, writeFileSync } from "node:fs";
import type { StudyTable } from "../../src/interval/study-table.ts";
import { STUDY_MARK, studyMarkdown } from "./study-markdown.ts";

const RESULT = "src/interval/study-result.ts";

export function publishStudy(table: StudyTable): void {
  writeFileSync(RESULT, resultSource(table));
  execFileSync("npx", ["--no-install", "biome", "format", "--write", RESULT]);
  const readme = readFileSync("README.md", "utf8");
  const from = readme.indexOf(STUDY_MARK.begin);
  const to = readme.indexOf(STUDY_MARK.end);
  if (from < 0 || to < from)
    throw new Error(`README.md lacks the lines ${STUDY_MARK.begin} and ${STUDY_MARK.end}`);
  writeFileSync(
    "README.md",
    readme.slice(0, from) + studyMarkdown(table) + readme.slice(to + STUDY_MARK.end.length),
  );
}

const resultSource = (
  table: StudyTable,
): string => `/** Written by \`npm run study -- --publish\`. Long because it is a table. */
import type { StudyTable } from "./study-table.ts";

export const STUDY: StudyTable | null = ${JSON.stringify(table, null, 2)};
`;
