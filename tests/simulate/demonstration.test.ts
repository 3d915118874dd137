import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { readFleet } from "../../src/fleet/read-fleet.ts";
import { simulateFleet } from "../../src/simulate/demonstration.ts";
import { DEMONSTRATION_FLEET_FILE } from "../../src/simulate/demonstration-fleet-file.ts";
import { DEMONSTRATION_SEED, DEMONSTRATION_SETTINGS } from "../../src/simulate/demonstration-settings.ts";
import type { ExportFile } from "../../src/simulate/dialect.ts";
import { simulateMaintenance } from "../../src/simulate/maintenance.ts";
import type { PlantedFault } from "../../src/simulate/planted-lines.ts";
import { dayOf } from "../../src/units.ts";

const SAMPLES = join(import.meta.dirname, "../../data-samples");
const files: readonly ExportFile[] = [...simulateFleet(DEMONSTRATION_SEED)];
const bytesOf = (path: string) => Buffer.from(files.find((file) => file.path === path)!.bytes);
const faults = JSON.parse(bytesOf("faults.json").toString()) as PlantedFault[];
const [grip, link] = DEMONSTRATION_SETTINGS.parts;

describe("simulateFleet(seed)", () => {
  it("gives the same bytes for the same seed, and is what data-samples/demonstration holds", () => {
    const folder = join(SAMPLES, "demonstration");
    const committed = readdirSync(folder, { recursive: true, withFileTypes: true })
      .filter((entry) => entry.isFile())
      .map((entry) => join(entry.parentPath, entry.name).slice(folder.length + 1))
      .sort();
    expect(committed).toEqual(files.map(({ path }) => path).sort());
    for (const { path, bytes } of files) {
      expect(Buffer.compare(Buffer.from(bytes), readFileSync(join(folder, path))), path).toBe(0);
    }
  });

  it("writes another fleet for another seed, with all its faults", () => {
    // In 630 no component that was read came off for a leaking seal in the last year.
    for (const seed of [1, 2, 3, 630]) {
      const other = [...simulateFleet(seed)];
      expect(other.map(({ path }) => path)).toEqual(files.map(({ path }) => path));
      const planted = JSON.parse(Buffer.from(other.at(-1)!.bytes).toString()) as PlantedFault[];
      expect(planted.length).toBe(faults.length);
      expect(Buffer.compare(Buffer.from(other[1]!.bytes), Buffer.from(files[1]!.bytes))).not.toBe(0);
    }
  });
});

describe("the demonstration's fleet file", () => {
  const fleet = readFleet(DEMONSTRATION_FLEET_FILE, "fleet.yaml");

  it("has the limits, part numbers and intervals that the simulation went by", () => {
    for (const part of DEMONSTRATION_SETTINGS.parts) {
      const written = fleet.parts.find((candidate) => candidate.part === part.part)!;
      expect(written.replaceAtMm).toBe(part.replaceAtMm);
      expect(written.unsafeAtMm).toBe(part.unsafeAtMm);
      expect(written.partNumbers).toEqual(part.partNumbers.map(({ partNumber }) => partNumber));
    }
  });

  it("maps every base to its environment", () => {
    for (const { base, environment } of DEMONSTRATION_SETTINGS.flying.bases) {
      expect(fleet.words.environments.get(base)).toBe(environment);
    }
  });
});

describe("the planted faults", () => {
  const text = (path: string) => bytesOf(path).toString("latin1");

  it("are twenty or more, each in a line that there is", () => {
    expect(faults.length).toBeGreaterThanOrEqual(20);
    for (const { file, line, number } of faults) {
      expect(line, `fault ${number}`).toBeGreaterThan(0);
      expect(line, `fault ${number}`).toBeLessThanOrEqual(text(file).split("\n").length);
    }
  });

  it("stand in their lines", () => {
    const lineOf = (part: string) => {
      const fault = faults.find(({ planted }) => planted.includes(part))!;
      return text(fault.file).split("\n")[fault.line - 1]!;
    };
    expect(lineOf("31 February")).toContain(";31.02.2023;");
    expect(lineOf("HTML")).toContain("<script>");
    expect(lineOf("spreadsheet would run")).toContain(";=cmd|");
    expect(lineOf("SALT PAN")).toContain(";SALT PAN;");
    expect(lineOf("heading again")).toMatch(/^Serial;Inspected;/);
    expect(lineOf("totals row")).toMatch(/^Total;/);
    expect(lineOf("2 October 2026")).toContain(";02.10.2026;");
    expect(lineOf("never closes")).toMatch(/;"play felt\r?$/);
    expect(lineOf("Negative hours")).toContain(";-12,0;");
    expect(bytesOf("exports/gaps-2025-01.csv").subarray(0, 3)).toEqual(Buffer.from([0xef, 0xbb, 0xbf]));
  });

  it("are listed in data-samples/README.md by file and line", () => {
    const readme = readFileSync(join(SAMPLES, "README.md"), "utf8");
    for (const { number, file, line, planted } of faults) {
      expect(readme, `fault ${number}`).toContain(
        `| ${number} | ${file.replace("exports/", "")}:${line} | ${planted} |`,
      );
    }
  });
});

describe("the demonstration's last month", () => {
  const record = simulateMaintenance(DEMONSTRATION_SETTINGS, DEMONSTRATION_SEED);
  const gripRecord = record.parts[0]!;
  const lastMonth = dayOf(2026, 9, 1)!;
  const wearOf = (row: (typeof gripRecord.looks)[number]) =>
    row.recorded.kind === "number" ? row.recorded.wearMm : row.recorded.overLimit ? grip!.replaceAtMm : 0;

  it("has a component left in over the limit, a look overdue and a function lost in service", () => {
    const lastLook = new Map(gripRecord.looks.map((look) => [look.component, look]));
    const leftIn = gripRecord.installed.filter(({ component }) => {
      const look = lastLook.get(component);
      return look !== undefined && wearOf(look) >= grip!.replaceAtMm;
    });
    expect(leftIn.length).toBeGreaterThanOrEqual(1);
    const overdue = gripRecord.installed.filter(({ component, base, hoursNow, hoursAtInstallation }) => {
      const allowed = base.startsWith("Saltpan") ? 220 : base === "Coast" ? 330 : 440;
      return hoursNow - (lastLook.get(component)?.hours ?? hoursAtInstallation) > allowed;
    });
    expect(overdue.length).toBeGreaterThanOrEqual(1);
    const failures = gripRecord.removals.filter(
      ({ functionalFailure, day }) => functionalFailure && day >= lastMonth,
    );
    expect(failures.length).toBeGreaterThanOrEqual(1);
  });

  it("ends on the last day of September 2026", () => {
    const lastDay = Math.max(...record.parts.flatMap(({ looks }) => looks.map(({ day }) => day)));
    expect(lastDay).toBe(dayOf(2026, 9, 30));
  });

  it("has the size that was asked for, and the grit that the story tells of", () => {
    const readings = record.parts.reduce((sum, { looks }) => sum + looks.length, 0);
    expect(readings).toBeGreaterThan(8000);
    expect(readings).toBeLessThan(15_000);
    const rate = (environment: string, standard: string) => {
      const group = gripRecord.groups.find((g) => g.environment === environment && g.standard === standard)!;
      return group.wearMm / group.hours;
    };
    expect(rate("sandy", "plain")).toBeGreaterThan(3 * rate("temperate", "plain"));
    expect(rate("sandy", "shielded")).toBeLessThan(rate("sandy", "plain") / 2);
    expect(link!.unsafeAtMm).toBeNull();
  });
});
