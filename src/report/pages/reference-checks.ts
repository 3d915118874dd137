/**
 * How far the program's numbers are from others', as the tests measure it: the table of method.html and of the README. A
 * test measures every row again and compares (tests/support/reference-table.ts).
 */
export interface ReferenceCheck {
  readonly what: string;
  /** Published source, or R package and function. */
  readonly against: string;
  /** Relative difference that the check allows. */
  readonly allowed: number;
  /** Power of ten below which the largest relative difference measured lies; no lower than -10. */
  readonly underPowerOfTen: number;
}

export const REFERENCE_CHECKS: readonly ReferenceCheck[] = [
  {
    what: "Weibull shape and scale, 17 data sets, exact, interval, left and right censored",
    against: "R survival, survreg",
    allowed: 1e-8,
    underPowerOfTen: -10,
  },
  {
    what: "their likelihood-ratio bounds: shape and five lives of each",
    against: "the likelihood profiled in R",
    allowed: 1e-5,
    underPowerOfTen: -10,
  },
  {
    what: "Weibull shape and scale, 3 data sets, with late entry",
    against: "R, the likelihood by optim",
    allowed: 2e-5,
    underPowerOfTen: -7,
  },
  {
    what: "their likelihood-ratio bounds, late entry: shape and five lives of each",
    against: "R, the likelihood by optim",
    allowed: 1e-4,
    underPowerOfTen: -7,
  },
  {
    what: "the handbook's Weibull example: shape 1.7208, scale 606.5280 h",
    against: "NIST/SEMATECH e-Handbook, 8.4.1.3",
    allowed: 1e-4,
    underPowerOfTen: -5,
  },
  {
    what: "Kaplan–Meier curves, 5 data sets",
    against: "R survival, survfit",
    allowed: 1e-9,
    underPowerOfTen: -10,
  },
  {
    what: "chances of two competing modes with standard errors and bounds, 1384 lives",
    against: "R survival, survfit of several states",
    allowed: 1e-9,
    underPowerOfTen: -10,
  },
  {
    what: "Weibull regressions with standard errors, 5 data sets",
    against: "R survival, survreg",
    allowed: 1e-5,
    underPowerOfTen: -10,
  },
  {
    what: "wear rates with bounds and scatter, 2 data sets",
    against: "R nlme, lme",
    allowed: 1e-6,
    underPowerOfTen: -6,
  },
  {
    what: "the published sleep deprivation fit: slope 10.467, standard error 1.546, intercept 251.405",
    against: "Bates, Mächler, Bolker and Walker (2015)",
    allowed: 1e-3,
    underPowerOfTen: -3,
  },
  { what: "exact limits of 17 counts", against: "R, poisson.test", allowed: 1e-9, underPowerOfTen: -10 },
  {
    what: "removals per aircraft with standard errors, 2 sets of repeated events",
    against: "R survival, survfit with robust variance",
    allowed: 1e-9,
    underPowerOfTen: -10,
  },
];
