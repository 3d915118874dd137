import { PROBLEM_CODES } from "../../src/problems.ts";

/** The README's table of problem codes. */
export const problemCodesTable = (): string =>
  [
    "| code | meaning |",
    "|---|---|",
    ...Object.entries(PROBLEM_CODES).map(
      ([code, meaning]) => `| ${code} | ${meaning.replaceAll("|", "\\|")} |`,
    ),
  ].join("\n");
