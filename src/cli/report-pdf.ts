/** `report --pdf`: prints the officer's pages after the month is published, and says how to where no browser is. */
import { join } from "node:path";
import { findBrowser } from "../run/find-browser.ts";
import { printOfficerPages } from "../run/print-pdf.ts";
import type { Terminal } from "./terminal.ts";

export const HOW_TO_PRINT =
  "no Chromium, Chrome or Edge was found, so no PDF was made: install one, or open each interval-*.html in any browser " +
  "and print it (A4 or Letter, no headers and footers; the proposal is pages 1 and 2)";

/** The month is published whatever becomes of this: trouble is a warning. */
export async function printPdf(outFolder: string, monthName: string, terminal: Terminal): Promise<void> {
  const browser = await findBrowser(process.env);
  if (browser === null) return terminal.note("warning", HOW_TO_PRINT);
  try {
    const printed = await printOfficerPages(browser, outFolder, monthName);
    if (printed.kind === "printed") {
      return terminal.note("info", `printed ${printed.files.length} pages to ${printed.folder}`);
    }
    const page = join(outFolder, monthName, printed.page);
    terminal.note("warning", `${browser} couldn't print ${page}: ${printed.why}; the month is published`);
  } catch (error) {
    const why = error instanceof Error ? error.message : String(error);
    terminal.note("warning", `the PDFs couldn't be written: ${why}; the month is published`);
  }
}
