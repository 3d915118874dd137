/** The bench's data, from `rotorwear simulate`: made once for a size and kept in the work folder. */
import { createHash } from "node:crypto";
import { createReadStream, createWriteStream } from "node:fs";
import { cp, mkdir, readdir, readFile, rename, rm, writeFile } from "node:fs/promises";
import { basename, join } from "node:path";
import { createInterface } from "node:readline";
import { pipeline } from "node:stream/promises";
import { runToEnd } from "./measure.ts";

export const SEED = 531;
export const ROOT = join(import.meta.dirname, "../..");
export const PROGRAM = join(ROOT, "dist/cli/main.js");

const HALF_AN_HOUR_MS = 1_800_000;

export interface Fleet {
  readonly fleetFile: string;
  readonly exports: string;
}

const fleetIn = (folder: string): Fleet => ({
  fleetFile: join(folder, "fleet.yaml"),
  exports: join(folder, "exports"),
});

/** A fleet with at least so many readings, and the gap, removal, roster and flying exports that go with them. */
export async function largeFleet(work: string, readings: number): Promise<Fleet> {
  const folder = join(work, `fleet-${readings}`);
  await made(
    folder,
    `simulate --seed ${SEED} --readings ${readings}, ${await simulatorHash()}`,
    async (aside) => {
      const args = [PROGRAM, "simulate", aside, "--seed", `${SEED}`, "--readings", `${readings}`, "--quiet"];
      const { code, stderr } = await runToEnd({ program: process.execPath, args }, HALF_AN_HOUR_MS);
      if (code !== 0) throw new Error(`simulate ended with exit ${code}: ${stderr}`);
    },
  );
  return fleetIn(folder);
}

/** The same fleet twice: up to a month before its last one, and with the last month in files of its own. */
export async function monthlyFleet(work: string, fleet: Fleet): Promise<{ before: Fleet; after: Fleet }> {
  const folder = join(work, `${basename(join(fleet.fleetFile, ".."))}-monthly`);
  await made(folder, `split by month, ${await simulatorHash()}`, async (aside) => {
    for (const part of ["before", "after"]) {
      await mkdir(join(aside, part, "exports"), { recursive: true });
      await cp(fleet.fleetFile, join(aside, part, "fleet.yaml"));
    }
    for (const file of await readdir(fleet.exports)) await splitFile(join(fleet.exports, file), aside);
  });
  return { before: fleetIn(join(folder, "before")), after: fleetIn(join(folder, "after")) };
}

/**
 * Rows of the file's month into a file of their own, the others into one of the month before. The roster is of one day:
 * the new one replaces the old, which lacks what was fitted since.
 */
async function splitFile(path: string, aside: string): Promise<void> {
  const found = /^(\w+)-(\d{4})-(\d{2})\.csv$/.exec(basename(path));
  if (found === null) throw new Error(`${path}: expected KIND-YYYY-MM.csv, as simulate writes`);
  const [, kind, year, month] = found as unknown as [string, string, string, string];
  if (month === "01")
    throw new Error(`${path}: the month before is in another year; the bench doesn't need that`);
  const older = `${kind}-${year}-${String(Number(month) - 1).padStart(2, "0")}.csv`;
  const isNew = [`.${month}.${year};`, `,${year}-${month}-`, `${year}-${month},`];
  const [old, recent] = [join(aside, "before/exports", older), join(aside, "after/exports", basename(path))];
  await Promise.all([
    filterLines(path, old, (line) => !isNew.some((mark) => line.includes(mark))),
    kind === "installed"
      ? cp(path, recent)
      : filterLines(path, recent, (line) => isNew.some((mark) => line.includes(mark))),
  ]);
  if (kind !== "installed") await cp(old, join(aside, "after/exports", older));
}

/** One group: components of one part, place and ring that were nowhere else, as many as asked for. */
export async function oneGroupFleet(work: string, fleet: Fleet, components: number): Promise<Fleet> {
  const folder = join(work, `one-group-${components}`);
  await made(folder, `${components} components of one group, ${await simulatorHash()}`, async (aside) => {
    await mkdir(join(aside, "exports"), { recursive: true });
    await cp(fleet.fleetFile, join(aside, "fleet.yaml"));
    const [file] = (await readdir(fleet.exports)).filter((name) => name.startsWith("wear-"));
    const chosen = await stayedAtCoast(join(fleet.exports, file!), components);
    for (const kind of ["wear", "removals", "installed"]) {
      const [name] = (await readdir(fleet.exports)).filter((one) => one.startsWith(`${kind}-`));
      const serialOf = (line: string) => line.slice(0, line.indexOf(";"));
      await filterLines(join(fleet.exports, name!), join(aside, "exports", name!), (line) =>
        chosen.has(serialOf(line)),
      );
    }
    for (const kind of ["gaps", "flying"]) {
      const [name] = (await readdir(fleet.exports)).filter((one) => one.startsWith(`${kind}-`));
      await cp(join(fleet.exports, name!), join(aside, "exports", name!));
    }
  });
  return fleetIn(folder);
}

async function stayedAtCoast(wearFile: string, components: number): Promise<ReadonlySet<string>> {
  const elsewhere = new Set<string>();
  const there = new Set<string>();
  for await (const line of linesOf(wearFile)) {
    const [serial = "", , , , , partNumber = "", , base, ring] = line.split(";");
    if (!partNumber.startsWith("GB-")) continue;
    (base === "Coast" && ring === "P" ? there : elsewhere).add(serial);
  }
  const stayed = [...there].filter((serial) => !elsewhere.has(serial)).slice(0, components);
  if (stayed.length < components)
    throw new Error(`${wearFile}: only ${stayed.length} components stayed at one place`);
  return new Set(stayed);
}

/** Bytes stay as they are: the encodings of the exports have one byte a character, or none beyond ASCII. */
const linesOf = (path: string) =>
  createInterface({ input: createReadStream(path, "latin1"), crlfDelay: Infinity });

/** Copies the heading and the lines that are wanted, with the file's own line ends. */
async function filterLines(from: string, to: string, wanted: (line: string) => boolean): Promise<void> {
  const end = /^(?:wear|removals|installed)-/.test(basename(from)) ? "\r\n" : "\n";
  await pipeline(async function* () {
    let heading = true;
    let gathered = "";
    for await (const line of linesOf(from)) {
      if (heading || wanted(line)) gathered += line + end;
      heading = false;
      if (gathered.length > 65_536) {
        yield Buffer.from(gathered, "latin1");
        gathered = "";
      }
    }
    yield Buffer.from(gathered, "latin1");
  }, createWriteStream(to));
}

/** Makes a folder aside and renames it into place, unless it is there and was made in the same way. */
async function made(folder: string, how: string, make: (aside: string) => Promise<void>): Promise<void> {
  const mark = join(folder, "made-by.txt");
  if ((await readFile(mark, "utf8").catch(() => null)) === how) return;
  const aside = `${folder}.${process.pid}`;
  await rm(folder, { recursive: true, force: true });
  await rm(aside, { recursive: true, force: true });
  await mkdir(join(aside, ".."), { recursive: true });
  await make(aside);
  await writeFile(join(aside, "made-by.txt"), how);
  await rename(aside, folder);
}

/** Tells simulators apart: data that another one made are made again. */
async function simulatorHash(): Promise<string> {
  const folder = join(ROOT, "dist/simulate");
  const files = (await readdir(folder)).filter((name) => name.endsWith(".js")).sort();
  const hash = createHash("sha256");
  for (const file of files) hash.update(await readFile(join(folder, file)));
  return `simulator ${hash.digest("hex").slice(0, 16)}`;
}
