/**
 * What a simulated fleet is made of: the settings of `simulateMaintenance`, with their defaults.
 *
 * Months count from 0, the first simulated month. Records begin at `recordsBeginMonth`: what happened before is
 * simulated (so that lives are under way when the records begin) but never written down. Lengths are millimetres,
 * hours are flight hours, rates are millimetres per 1000 flight hours, chances and shares are fractions.
 */

/** How true wear rates differ between components of one environment and standard. */
export type RateSpread =
  | { readonly kind: "lognormal" }
  /** Normal with standard deviation spread × median, cut off at a twentieth of the median. */
  | { readonly kind: "normal" }
  /** Lognormal, and a share of the components wears `fastFactor` times as fast. */
  | { readonly kind: "bimodal"; readonly fastShare: number; readonly fastFactor: number };

/** The true wear rate in one environment with one standard of seal ring. */
export interface RateSettings {
  readonly environment: string;
  readonly standard: string;
  readonly medianMmPer1000h: number;
  /** Standard deviation of the log rate over components (aircraft effect included). */
  readonly logSd: number;
}

/** The interval in force; several that match: the shortest. Left out = any. Months are [fromMonth, untilMonth). */
export interface IntervalRule {
  readonly intervalHours: number;
  readonly environment?: string;
  readonly standard?: string;
  readonly fromMonth?: number;
  readonly untilMonth?: number;
}

/** How the gauge and the people who use it turn true wear into a record. */
export interface GaugeSettings {
  /** Standard deviation of one reading. Default 0.012. */
  readonly scatterMm: number;
  /** Step of the gauge. Default 0.005. */
  readonly resolutionMm: number;
  /** Bias gained per year since the last calibration. Default 0. */
  readonly driftMmPerYear: number;
  /** Months between calibrations, which take the bias away. Default 24. */
  readonly calibrationMonths: number;
  /** Chance that a look at a component at or over the limit sees it; else it reads below. Default 0.9. */
  readonly detectionChance: number;
  /** Share of looks recorded in words alone. Default 0. */
  readonly wordsOnlyShare: number;
  /** Chance that a reading less than `heapingWindowMm` over the limit is written down just below it. Default 0. */
  readonly heapingChance: number;
  readonly heapingWindowMm: number;
  /** Share of look rows with another base written down. Default 0. */
  readonly wrongBaseShare: number;
}

/** When looks are made. */
export interface LookSettings {
  /** A look comes between (1 - earlyShare) and (1 + lateShare) intervals after the last one. Defaults 0.08, 0.08. */
  readonly earlyShare: number;
  readonly lateShare: number;
  /** Share of looks that are overlooked and come 20 to 70 % late. Default 0. */
  readonly overlookedShare: number;
  /** Other arms due within this share of their interval are looked at on the same visit. Default 0.1. */
  readonly pooledShare: number;
}

/** What mechanics do besides replacing at the limit. */
export interface RemovalSettings {
  /** Chance that a component read at or over the limit is left in until its next look. Default 0. */
  readonly deferredShare: number;
  /** A reading of `cautiousFromShare` × limit or more is replaced with this chance. Defaults 0 and 0.85. */
  readonly cautiousChance: number;
  readonly cautiousFromShare: number;
  /** Removals for convenience and for seal leaks per 1000 flight hours. Defaults 0.03 and 0.04. */
  readonly conveniencePer1000h: number;
  readonly sealLeakPer1000h: number;
  /** Hours since new at which a component is time expired; null: never. Default null. */
  readonly lifeLimitHours: number | null;
  /** Chance that a component taken off for convenience is fitted later to another aircraft of the base. Default 0.7. */
  readonly refitChance: number;
}

/** Seal gaps: set, then drifting until the next visit. */
export interface SealSettings {
  /** Upper tolerance by standard. */
  readonly toleranceMm: Readonly<Record<string, number>>;
  readonly setGapMm: number;
  readonly setScatterMm: number;
  /** Median drift, and its log standard deviation from one setting to the next. */
  readonly driftMmPer1000h: number;
  readonly driftLogSd: number;
  /** A gap found over this share of the tolerance is set again. */
  readonly adjustShare: number;
  readonly gaugeScatterMm: number;
  /** How many times as fast wear goes with the gap out of tolerance, by environment; left out = 1. */
  readonly wearFactor: Readonly<Record<string, number>>;
}

/** A bad batch: this share of the components made in [fromMonth, untilMonth) wears `factor` times as fast. */
export interface BatchSettings {
  readonly share: number;
  readonly factor: number;
  readonly fromMonth: number;
  readonly untilMonth: number;
}

export interface PartSettings {
  readonly part: string;
  readonly positions: readonly string[];
  /** In order of introduction, with the month from which new components carry it. */
  readonly partNumbers: readonly { readonly partNumber: string; readonly fromMonth: number }[];
  readonly serialPrefix: string;
  readonly replaceAtMm: number;
  /** Wear at which the function is lost; null: it never is. */
  readonly unsafeAtMm: number | null;
  /** The function is lost this much past unsafe-at, exponential with this mean. Default 0: at unsafe-at exactly. */
  readonly failureMarginMm: number;
  /** How much faster a component wears past the limit. Default 1. */
  readonly beyondLimitFactor: number;
  /** Play when new, and its standard deviation over components. Defaults 0.02 and 0.005. */
  readonly newWearMm: number;
  readonly newWearSdMm: number;
  /** Wear goes with hours to this power, the limit being reached at the same hours. Default 1. */
  readonly shapeExponent: number;
  readonly rates: readonly RateSettings[];
  readonly spread: RateSpread;
  /** Correlation of log rates of two components of one aircraft. Default 0.3. */
  readonly aircraftCorrelation: number;
  readonly intervals: readonly IntervalRule[];
  readonly gauge: GaugeSettings;
  readonly looks: LookSettings;
  readonly removals: RemovalSettings;
  /** Default null: seals are not simulated. */
  readonly seal: SealSettings | null;
  readonly batch: BatchSettings | null;
}

export interface BaseSettings {
  readonly base: string;
  readonly environment: string;
  readonly aircraft: number;
  readonly hoursPerMonth: number;
  /** Share of its aircraft that have each later standard from the beginning. */
  readonly initialShare?: Readonly<Record<string, number>>;
}

/** Rings of a later standard put on aircraft of one environment, worst aircraft first. */
export interface RetrofitSettings {
  readonly standard: string;
  readonly environment: string;
  readonly fromMonth: number;
  readonly aircraftPerMonth: number;
  readonly aircraft: number;
  /** Chance that an arm gets a new component with its new ring. */
  readonly newComponentShare: number;
}

export interface FlyingSettings {
  /** Day (since 1970-01-01) on which month 0 begins; the first of a month. */
  readonly firstDay: number;
  readonly months: number;
  readonly recordsBeginMonth: number;
  readonly bases: readonly BaseSettings[];
  /** The standard that aircraft have unless a base says otherwise. */
  readonly firstStandard: string;
  readonly retrofits: readonly RetrofitSettings[];
  /** Log standard deviations of flying: over aircraft, and from month to month. Defaults 0.12 and 0.2. */
  readonly aircraftLogSd: number;
  readonly monthLogSd: number;
  /** Chance that an aircraft goes to another base in a month. Default 0. */
  readonly moveChancePerMonth: number;
  /** Moves that are planned: aircraft by its number from 0. */
  readonly plannedMoves: readonly {
    readonly aircraft: number;
    readonly month: number;
    readonly base: string;
  }[];
}

export interface MaintenanceSettings {
  readonly flying: FlyingSettings;
  readonly parts: readonly PartSettings[];
}

export const DEFAULT_GAUGE: GaugeSettings = {
  scatterMm: 0.012,
  resolutionMm: 0.005,
  driftMmPerYear: 0,
  calibrationMonths: 24,
  detectionChance: 0.9,
  wordsOnlyShare: 0,
  heapingChance: 0,
  heapingWindowMm: 0.03,
  wrongBaseShare: 0,
};

export const DEFAULT_LOOKS: LookSettings = {
  earlyShare: 0.08,
  lateShare: 0.08,
  overlookedShare: 0,
  pooledShare: 0.1,
};

export const DEFAULT_REMOVALS: RemovalSettings = {
  deferredShare: 0,
  cautiousChance: 0,
  cautiousFromShare: 0.85,
  conveniencePer1000h: 0.03,
  sealLeakPer1000h: 0.04,
  lifeLimitHours: null,
  refitChance: 0.7,
};

/** Everything about a part that has a default. */
export const DEFAULT_PART = {
  failureMarginMm: 0,
  beyondLimitFactor: 1,
  newWearMm: 0.02,
  newWearSdMm: 0.005,
  shapeExponent: 1,
  spread: { kind: "lognormal" },
  aircraftCorrelation: 0.3,
  gauge: DEFAULT_GAUGE,
  looks: DEFAULT_LOOKS,
  removals: DEFAULT_REMOVALS,
  seal: null,
  batch: null,
} as const satisfies Partial<PartSettings>;

/** Everything about flying that has a default. */
export const DEFAULT_FLYING = {
  retrofits: [],
  aircraftLogSd: 0.12,
  monthLogSd: 0.2,
  moveChancePerMonth: 0,
  plannedMoves: [],
} as const satisfies Partial<FlyingSettings>;
