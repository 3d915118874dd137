/** The README's table of how far our numbers are from others', from the one that the program ships. */
import { REFERENCE_CHECKS } from "../../src/report/pages/reference-checks.ts";

/** The README's lines of the table that the program ships. */
export const referenceTable = (): string =>
  [
    "| what | against | largest relative difference | allowed |",
    "|---|---|---|---|",
    ...REFERENCE_CHECKS.map(
      ({ what, against, underPowerOfTen, allowed }) =>
        `| ${what} | ${against} | under 1e${underPowerOfTen} | ${allowed.toExponential().replace(".0", "")} |`,
    ),
  ].join("\n");
