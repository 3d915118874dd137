/**
 * The officer's pages of a published month as PDF, printed by a browser that the machine has. PDFs differ from run to
 * run and from browser to browser, so they lie beside the months, in `pdf/`, and never inside one.
 */
import { spawn } from "node:child_process";
import { lstat, mkdir, mkdtemp, readdir, rename, rm, stat } from "node:fs/promises";
import { tmpdir } from "node:os";
import { basename, join, resolve } from "node:path";
import { pathToFileURL } from "node:url";

/** Folder in the output folder; a month's PDFs lie in a folder of its name. */
export const PDF_FOLDER = "pdf";

/** A page takes a second; a browser that takes this long will not end by itself. */
const LONGEST_MS = 60_000;

export type Printed =
  | { readonly kind: "printed"; readonly folder: string; readonly files: readonly string[] }
  | { readonly kind: "failed"; readonly page: string; readonly why: string };

/**
 * Prints every officer's page of a month, each file complete or not there at all.
 *
 * @param browser    path of the browser
 * @param monthName  name of the month's folder in the output folder
 */
export async function printOfficerPages(
  browser: string,
  outFolder: string,
  monthName: string,
  longestMs = LONGEST_MS,
): Promise<Printed> {
  const monthFolder = resolve(outFolder, monthName);
  const pages = (await readdir(monthFolder)).filter((name) => /^interval-.*\.html$/.test(name)).sort();
  const folder = await ownFolder(await ownFolder(resolve(outFolder), PDF_FOLDER), monthName);
  // A profile of its own: the user's browser may be running, and nothing of it belongs in a report.
  const profile = await mkdtemp(join(tmpdir(), "rotorwear-print-"));
  const files: string[] = [];
  try {
    for (const page of pages) {
      const name = `${basename(page, ".html")}.pdf`;
      const draft = join(folder, `.${name}.${process.pid}`);
      const why = await printPage(browser, profile, join(monthFolder, page), draft, longestMs);
      if (why !== null) {
        await rm(draft, { force: true });
        return { kind: "failed", page, why };
      }
      await rename(draft, join(folder, name));
      files.push(name);
    }
  } finally {
    await rm(profile, { recursive: true, force: true, maxRetries: 5, retryDelay: 100 });
  }
  return { kind: "printed", folder, files };
}

/** A folder of the output folder, made where it lacks; a link is refused, since nothing outside may be written. */
async function ownFolder(parent: string, name: string): Promise<string> {
  const folder = join(parent, name);
  await mkdir(folder, { recursive: true });
  if ((await lstat(folder)).isSymbolicLink())
    throw new Error(`${folder} is a link, not a folder; move it away`);
  return folder;
}

/** Prints one page; why it failed, or null. */
async function printPage(
  browser: string,
  profile: string,
  page: string,
  to: string,
  longestMs: number,
): Promise<string | null> {
  const asked = [
    "--headless",
    "--disable-gpu",
    "--no-first-run",
    "--no-default-browser-check",
    "--disable-extensions",
    // In containers the shared memory is small.
    "--disable-dev-shm-usage",
    // As root (a container's usual user) a browser refuses to start with its sandbox; the page is our own and asks for
    // nothing from outside.
    ...(process.getuid?.() === 0 ? ["--no-sandbox"] : []),
    `--user-data-dir=${profile}`,
    "--no-pdf-header-footer",
    `--print-to-pdf=${to}`,
    pathToFileURL(page).href,
  ];
  const ended = await endOf(browser, asked, longestMs);
  if (ended !== null) return ended;
  const written = await stat(to).catch(() => null);
  return written === null || written.size === 0 ? "it ended without writing a file" : null;
}

function endOf(command: string, asked: readonly string[], longestMs: number): Promise<string | null> {
  return new Promise((done) => {
    const child = spawn(command, asked, { stdio: ["ignore", "ignore", "pipe"], windowsHide: true });
    let said = "";
    child.stderr.setEncoding("utf8");
    child.stderr.on("data", (text: string) => {
      said = (said + text).slice(-2000);
    });
    const timer = setTimeout(() => {
      child.kill("SIGKILL");
      done(`it took longer than ${Math.round(longestMs / 1000)} s`);
    }, longestMs);
    child.on("error", (error) => {
      clearTimeout(timer);
      done(error.message);
    });
    child.on("close", (code) => {
      clearTimeout(timer);
      const last = said.trim().split("\n").at(-1) ?? "";
      done(code === 0 ? null : `it ended with code ${code}${last === "" ? "" : `: ${last}`}`);
    });
  });
}
