/**
 * What a fleet file may leave out, and what counts then, each with its reason. Every value here is printed among the
 * settings of a month, so that nothing rests on a default that nobody saw. The chance of detection has no default: how
 * well a look is made is a fact of one operator's hangar.
 */
import type { EvidenceThresholds } from "./fleet.ts";

/** Late by a tenth of the interval is a common planning margin; the looks that were made show whether it is so. */
export const DEFAULT_TOLERANCE = 0.1;

/** Past the limit the hard layer is often gone: half as fast again until somebody has measured it. */
export const DEFAULT_BEYOND_LIMIT_FACTOR = 1.5;

/** A year evens out seasons, and is what monthly reliability meetings look back on. */
export const DEFAULT_ALERT_WINDOW_MONTHS = 12;

/** Steps in which programmes are usually written, and no more than half as much again at one time. */
export const DEFAULT_INTERVAL_STEP_H = 50;
export const DEFAULT_LARGEST_CHANGE = 0.5;

/** A thousand components leave the bound of a share over the limit within a few per cent of its estimate; see modelled-lives.ts. */
export const DEFAULT_MODELLED_COMPONENTS = 1000;
/** Fewer would be thin evidence made by hand. */
export const LEAST_MODELLED_COMPONENTS = 200;

/**
 * Acceptable risks where the file sets none. One in a thousand for losing the margin unseen; one look in ten that finds
 * a part over its limit, so that the limit is met at looks and not made a habit; one functional failure in 100,000
 * flight hours; and bounds at 95 %, the usual level for a claim that somebody else must believe.
 */
export const DEFAULT_ACCEPTABLE = {
  unsafeBeforeSeen: 0.001,
  overLimitPerInspection: 0.1,
  functionalFailuresPer1000H: 0.01,
  confidence: 0.95,
} as const;

/** Thresholds of the evidence rules. Shares are of one. */
export const DEFAULT_EVIDENCE: EvidenceThresholds = {
  // Below 20 lives the bounds of a life model are wider than any step of the grid.
  minimumLives: 20,
  // One or two aircraft are one mechanic and one landing site; five begin to be a fleet.
  minimumAircraft: 5,
  // No single aircraft may carry the answer.
  largestAircraftShare: 0.4,
  // With 60 looks and no find, the upper 95 % bound of the share found over the limit is 5 %.
  looksAtPresentInterval: 60,
  // A look within 15 % of the interval tests that interval; the usual tolerance is 10 %.
  presentIntervalBand: 0.15,
  // A fit must have been followed to where it is used: ten components of three aircraft reached that age.
  componentsFollowed: 10,
  aircraftFollowed: 3,
  // Wear read beyond this share of the limit shows how it goes on near the limit.
  wearReadBeyondShareOfLimit: 0.7,
  // Or hardly any gets there before two more looks: one in ten is seen in time and stops no fleet.
  nearLimitSoon: 0.1,
  // With n components a bad share up to 3/n can't be excluded: 60 leave 5 %.
  componentsForSmallUnsafeRisk: 60,
  // Share of due looks that have a number: the missing ones are rarely the good ones.
  readingsComplete: 0.9,
  // More early removals than this, and the limit that is analysed is not the limit that is worked to.
  earlyRemovals: 0.2,
  // The best alternative model may change the risk by at most this share.
  fitChange: 0.2,
  // Two-sided p of predicted against found, below which the lines of evidence disagree.
  linesAgreeP: 0.05,
  // p of a test that groups are alike, below which a thin one may not borrow from the others: the usual 5 %.
  borrowP: 0.05,
  // Wear that grows faster than hours to this power runs away from a straight line.
  upperExponent: 1.2,
  // More rejected rows than this, and what is missing could change the answer.
  rejectedRows: 0.02,
};

/** Misses are not independent: of the looks before a component turns unsafe, more than this many add nothing. */
export const MOST_LOOKS_COUNTED = 4;
