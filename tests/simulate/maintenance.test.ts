import { describe, expect, it } from "vitest";
import { type MaintenanceRecord, simulateMaintenance, streamSeed } from "../../src/simulate/maintenance.ts";
import {
  DEFAULT_FLYING,
  DEFAULT_GAUGE,
  DEFAULT_LOOKS,
  DEFAULT_PART,
  DEFAULT_REMOVALS,
  type FlyingSettings,
  type MaintenanceSettings,
  type PartSettings,
} from "../../src/simulate/settings.ts";
import { dayOf } from "../../src/units.ts";

const FLYING: FlyingSettings = {
  ...DEFAULT_FLYING,
  firstDay: dayOf(2018, 1, 1)!,
  months: 72,
  recordsBeginMonth: 0,
  firstStandard: "plain",
  bases: [{ base: "Valley", environment: "temperate", aircraft: 40, hoursPerMonth: 50 }],
};

const PART: PartSettings = {
  ...DEFAULT_PART,
  part: "bearing",
  positions: ["A", "B", "C", "D"],
  partNumbers: [{ partNumber: "B-1", fromMonth: 0 }],
  serialPrefix: "",
  replaceAtMm: 0.5,
  unsafeAtMm: 0.8,
  rates: [{ environment: "temperate", standard: "plain", medianMmPer1000h: 0.25, logSd: 0.25 }],
  intervals: [{ intervalHours: 300 }],
};

const fleet = (
  part: Partial<PartSettings> = {},
  flying: Partial<FlyingSettings> = {},
): MaintenanceSettings => ({
  flying: { ...FLYING, ...flying },
  parts: [{ ...PART, ...part }],
});

const onePart = (record: MaintenanceRecord) => record.parts[0]!;
const simulated = (seed: number, part: Partial<PartSettings> = {}, flying: Partial<FlyingSettings> = {}) =>
  onePart(simulateMaintenance(fleet(part, flying), seed));

describe("simulateMaintenance(settings, seed)", () => {
  it("gives the same rows for the same seed, others for another", () => {
    expect(simulated(1)).toEqual(simulated(1));
    expect(simulated(1).looks).not.toEqual(simulated(2).looks);
  });

  it("flies the hours that are set: 40 aircraft, 72 months, 50 h, within four standard errors", () => {
    const hours = simulated(3).groups.reduce((sum, group) => sum + group.hours, 0) / 4;
    const expected = 40 * 72 * 50 * Math.exp((0.12 ** 2 + 0.2 ** 2) / 2);
    expect(Math.abs(hours / expected - 1)).toBeLessThan(4 * Math.sqrt(0.12 ** 2 / 40 + 0.2 ** 2 / 2880));
  });

  it("lets simple averages find the mean rate: readings over hours of components followed from new", () => {
    // Without aircraft effect or replacement every component's line is seen, so the average is unbiased.
    const part = { replaceAtMm: 50, unsafeAtMm: null, aircraftCorrelation: 0, removals: DEFAULT_REMOVALS };
    const { looks, components } = simulated(4, part);
    const last = new Map(looks.map((look) => [look.component, look]));
    const slopes = [...last.values()].flatMap(({ recorded, hours, component }) =>
      recorded.kind === "number" && hours > 1500
        ? [(recorded.wearMm - components[component]!.newWearMm) / hours]
        : [],
    );
    const mean = slopes.reduce((sum, slope) => sum + slope, 0) / slopes.length;
    const expected = 0.00025 * Math.exp(0.25 ** 2 / 2);
    expect(slopes.length).toBeGreaterThan(120);
    expect(Math.abs(mean / expected - 1)).toBeLessThan((4 * 0.26) / Math.sqrt(slopes.length));
  });

  it("finds in the long run one look in (life / interval) over the limit", () => {
    // No spread, no scatter, no other removals: 0.48 mm at 0.3 mm/1000 h is 1600 h, found at the sixth look of 300 h.
    const { looks } = simulated(5, {
      rates: [{ environment: "temperate", standard: "plain", medianMmPer1000h: 0.3, logSd: 0 }],
      newWearSdMm: 0,
      gauge: { ...DEFAULT_GAUGE, scatterMm: 0, resolutionMm: 0.0001, detectionChance: 1 },
      looks: { ...DEFAULT_LOOKS, earlyShare: 0, lateShare: 0, pooledShare: 0 },
      removals: { ...DEFAULT_REMOVALS, conveniencePer1000h: 0, sealLeakPer1000h: 0 },
    });
    const over = looks.filter(({ trueWearMm }) => trueWearMm >= 0.5);
    expect(new Set(over.map(({ hours }) => hours))).toEqual(new Set([1800]));
    expect(over.length / looks.length).toBeGreaterThan(0.12);
    expect(over.length / looks.length).toBeLessThan(1 / 6);
  });

  it("looks within the lateness that is set, and removes a component at or over the limit at that look", () => {
    const { looks, removals } = simulated(6, { looks: { ...DEFAULT_LOOKS, pooledShare: 0 } });
    const lastHours = new Map<number, number>();
    for (const { component, hours } of looks) {
      const since = hours - (lastHours.get(component) ?? 0);
      expect(since).toBeGreaterThan(300 * 0.92 - 0.11);
      expect(since).toBeLessThan(300 * 1.08 + 0.11);
      lastHours.set(component, hours);
    }
    const removedAt = new Map(removals.map((removal) => [removal.component, removal]));
    const over = looks.filter(({ recorded }) => recorded.kind === "number" && recorded.wearMm >= 0.5);
    expect(over.length).toBeGreaterThan(50);
    for (const { component, day, hours } of over) {
      expect(removedAt.get(component)).toMatchObject({ day, hours, cause: "wear", foundAt: "inspection" });
    }
  });

  it("misses a tenth of the looks at components over the limit, where detection is 0.9", () => {
    const { looks } = simulated(7, { gauge: { ...DEFAULT_GAUGE, scatterMm: 0 } });
    const over = looks.filter(({ trueWearMm }) => trueWearMm >= 0.51);
    const missed = over.filter(({ recorded }) => recorded.kind === "number" && recorded.wearMm < 0.5);
    expect(over.length).toBeGreaterThan(150);
    expect(Math.abs(missed.length / over.length - 0.1)).toBeLessThan(4 * Math.sqrt(0.09 / over.length));
  });

  it("loses the function exactly at unsafe-at, in service, and only there", () => {
    const { removals } = simulated(8, {
      rates: [{ environment: "temperate", standard: "plain", medianMmPer1000h: 1, logSd: 0.3 }],
    });
    const failures = removals.filter(({ functionalFailure }) => functionalFailure);
    expect(failures.length).toBeGreaterThan(20);
    for (const { trueWearMm, cause, foundAt } of failures) {
      expect(trueWearMm).toBeCloseTo(0.8, 9);
      expect([cause, foundAt]).toEqual(["wear", "service"]);
    }
    for (const { trueWearMm } of removals) expect(trueWearMm).toBeLessThan(0.8 + 1e-9);
  });

  it("fits a component taken off for convenience elsewhere, later, at the same hours, and it wears on", () => {
    const removalSettings = { ...DEFAULT_REMOVALS, conveniencePer1000h: 0.3, refitChance: 1 };
    const { removals, looks } = simulated(9, { removals: removalSettings });
    let elsewhere = 0;
    for (const removal of removals.filter(({ cause }) => cause === "convenience")) {
      const next = looks.find(({ component, day }) => component === removal.component && day > removal.day);
      if (next === undefined) continue;
      expect(next.hours).toBeGreaterThanOrEqual(removal.hours);
      expect(next.hours - removal.hours).toBeLessThan(330);
      expect(next.trueWearMm).toBeGreaterThanOrEqual(removal.trueWearMm);
      if (next.aircraft !== removal.aircraft) elsewhere++;
    }
    expect(elsewhere).toBeGreaterThan(20);
  });

  it("begins its records mid-life: components are looked at that were never seen new", () => {
    const { looks, groups } = simulated(10, {}, { recordsBeginMonth: 36 });
    const first = new Map<number, number>();
    for (const { component, hours } of looks) if (!first.has(component)) first.set(component, hours);
    expect(looks[0]!.day).toBeGreaterThanOrEqual(dayOf(2021, 1, 1)!);
    expect([...first.values()].filter((hours) => hours > 400).length).toBeGreaterThan(50);
    expect(groups[0]!.hours / 4).toBeLessThan(40 * 36 * 60);
  });

  it("keeps one component in each arm: the roster follows from removals and hours", () => {
    const { installed, removals, looks } = simulated(11);
    expect(installed.length).toBe(160);
    expect(new Set(installed.map(({ component }) => component)).size).toBe(160);
    const lastRemoval = new Map(removals.map(({ component, day }) => [component, day]));
    for (const { component, installedOn, hoursNow, hoursAtInstallation } of installed) {
      expect(lastRemoval.get(component) ?? 0).toBeLessThanOrEqual(installedOn);
      expect(hoursNow).toBeGreaterThanOrEqual(hoursAtInstallation);
    }
    const fitted = new Set(installed.map(({ component }) => component));
    for (const { component, day } of looks) {
      const removedAfter = day <= (lastRemoval.get(component) ?? -1);
      expect(removedAfter || fitted.has(component)).toBe(true);
    }
  });
});

describe("simulateMaintenance: kinds of trouble", () => {
  const readings = (part: Partial<PartSettings>, seed = 20) =>
    simulated(seed, part).looks.map(({ recorded }) => (recorded.kind === "number" ? recorded.wearMm : null));

  it("writes a share of its looks in words", () => {
    const all = readings({ gauge: { ...DEFAULT_GAUGE, wordsOnlyShare: 0.3 } });
    const inWords = all.filter((reading) => reading === null).length;
    expect(Math.abs(inWords / all.length - 0.3)).toBeLessThan(4 * Math.sqrt(0.21 / all.length));
  });

  it("heaps readings just below the limit", () => {
    const justBelow = (part: Partial<PartSettings>) =>
      readings(part).filter((reading) => reading !== null && Math.abs(reading - 0.495) < 1e-9).length;
    const gauge = { ...DEFAULT_GAUGE, heapingChance: 0.8, heapingWindowMm: 0.05 };
    expect(justBelow({ gauge })).toBeGreaterThan(2 * justBelow({}) + 20);
  });

  it("replaces early where mechanics are cautious", () => {
    const early = (chance: number) => {
      const removals = { ...DEFAULT_REMOVALS, cautiousChance: chance };
      return simulated(21, { removals }).removals.filter(
        ({ cause, trueWearMm }) => cause === "wear" && trueWearMm < 0.46,
      ).length;
    };
    expect(early(0)).toBeLessThan(10);
    expect(early(0.6)).toBeGreaterThan(40);
  });

  it("reads high with a drifting gauge, by the months since its calibration", () => {
    const gauge = { ...DEFAULT_GAUGE, driftMmPerYear: 0.06, calibrationMonths: 24 };
    const part = { replaceAtMm: 50, unsafeAtMm: null, gauge };
    const errors = simulated(22, part).looks.flatMap(({ recorded, trueWearMm, day }) => {
      const month = Math.floor((day - FLYING.firstDay) / 30.4375);
      return recorded.kind === "number" && month % 24 >= 22 ? [recorded.wearMm - trueWearMm] : [];
    });
    const mean = errors.reduce((sum, error) => sum + error, 0) / errors.length;
    expect(mean).toBeGreaterThan(0.1);
    expect(mean).toBeLessThan(0.12);
  });

  it("leaves components in over the limit where that is deferred, and overlooks looks", () => {
    const { looks, removals } = simulated(23, {
      removals: { ...DEFAULT_REMOVALS, deferredShare: 0.5 },
      looks: { ...DEFAULT_LOOKS, overlookedShare: 0.1 },
    });
    const removed = new Set(removals.map(({ component, day }) => `${component}|${day}`));
    const over = looks.filter(({ recorded }) => recorded.kind === "number" && recorded.wearMm >= 0.5);
    const leftIn = over.filter(({ component, day }) => !removed.has(`${component}|${day}`)).length;
    expect(Math.abs(leftIn / over.length - 0.5)).toBeLessThan(4 * Math.sqrt(0.25 / over.length));
    const lastHours = new Map<number, number>();
    let late = 0;
    for (const { component, hours } of looks) {
      if (hours - (lastHours.get(component) ?? 0) > 330) late++;
      lastHours.set(component, hours);
    }
    expect(late / looks.length).toBeGreaterThan(0.05);
  });

  it("writes another base now and then", () => {
    const bases = [
      { base: "Valley", environment: "temperate", aircraft: 20, hoursPerMonth: 50 },
      { base: "Dale", environment: "temperate", aircraft: 20, hoursPerMonth: 50 },
    ];
    const { looks } = simulated(24, { gauge: { ...DEFAULT_GAUGE, wrongBaseShare: 0.05 } }, { bases });
    const wrong = looks.filter(({ base, aircraft }) => aircraft < 20 !== (base === "Valley")).length;
    expect(Math.abs(wrong / looks.length - 0.05)).toBeLessThan(4 * Math.sqrt(0.0475 / looks.length));
  });
});

describe("simulateMaintenance: bases, rings and seals", () => {
  const rates = [
    { environment: "sandy", standard: "plain", medianMmPer1000h: 0.4, logSd: 0.25 },
    { environment: "sandy", standard: "shielded", medianMmPer1000h: 0.2, logSd: 0.25 },
    { environment: "temperate", standard: "plain", medianMmPer1000h: 0.1, logSd: 0.25 },
    { environment: "temperate", standard: "shielded", medianMmPer1000h: 0.08, logSd: 0.25 },
  ];
  const bases = [
    { base: "Pan", environment: "sandy", aircraft: 20, hoursPerMonth: 40 },
    { base: "Valley", environment: "temperate", aircraft: 20, hoursPerMonth: 50 },
  ];

  it("puts later rings on the worst aircraft first, with a look at the change", () => {
    const retrofit = {
      standard: "shielded",
      environment: "sandy",
      fromMonth: 36,
      aircraftPerMonth: 1,
      aircraft: 5,
      newComponentShare: 0.5,
    };
    const record = simulateMaintenance(fleet({ rates }, { bases, retrofits: [retrofit] }), 30);
    const { effect, retrofitMonth, monthStart } = record.flying;
    const changed = Array.from(retrofitMonth.keys()).filter((k) => retrofitMonth[k]! >= 0);
    expect(changed.length).toBe(5);
    const least = Math.min(...changed.map((k) => effect[k]!));
    for (let k = 0; k < 20; k++) if (!changed.includes(k)) expect(effect[k]).toBeLessThan(least);
    for (const k of changed) {
      const day = monthStart[retrofitMonth[k]!]!;
      const looks = onePart(record).looks.filter((look) => look.aircraft === k);
      expect(looks.filter((look) => look.day === day).length).toBeGreaterThanOrEqual(4);
      for (const look of looks) expect(look.standard).toBe(look.day > day ? "shielded" : "plain");
    }
  });

  it("moves aircraft as planned, and their components wear at the rate of the place", () => {
    const plannedMoves = [{ aircraft: 0, month: 24, base: "Valley" }];
    const record = simulateMaintenance(fleet({ rates }, { bases, plannedMoves }), 31);
    const looks = onePart(record).looks.filter(({ aircraft }) => aircraft === 0);
    const moved = record.flying.monthStart[24]!;
    for (const { day, environment } of looks) expect(environment).toBe(day >= moved ? "temperate" : "sandy");
  });

  it("sets drifting gaps again, and hours out of tolerance wear faster", () => {
    const seal = {
      toleranceMm: { plain: 1 },
      setGapMm: 0.5,
      setScatterMm: 0.05,
      driftMmPer1000h: 3,
      driftLogSd: 0.3,
      adjustShare: 0.8,
      gaugeScatterMm: 0.01,
      wearFactor: { temperate: 3 },
    };
    const meanRate = ({ groups }: { groups: readonly { hours: number; wearMm: number }[] }) =>
      groups[0]!.wearMm / groups[0]!.hours;
    const with3 = simulated(32, { seal });
    const with1 = simulated(32, { seal: { ...seal, wearFactor: {} } });
    expect(with3.gaps.some(({ state, gapMm }) => state === "found" && gapMm > 1)).toBe(true);
    for (const { state, gapMm } of with3.gaps) if (state === "left") expect(gapMm).toBeLessThan(0.8);
    expect(meanRate(with3)).toBeGreaterThan(1.2 * meanRate(with1));
  });
});

describe("streamSeed(seed, stream)", () => {
  it("gives distinct seeds to neighbouring seeds and streams", () => {
    const seeds = new Set<number>();
    for (let seed = 0; seed < 1000; seed++) {
      for (let stream = 0; stream < 10; stream++) seeds.add(streamSeed(seed, stream));
    }
    expect(seeds.size).toBeGreaterThan(9_990);
  });
});
