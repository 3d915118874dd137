/** What the sliders of an officer's page show: answers under other settings, as plain data. */
import type { Answer } from "./month-result.ts";

/** An answer under other settings, without its evidence. */
export interface WhatIfAnswer {
  /** Row of the decision table that applied. */
  readonly row: number;
  readonly answer: Answer;
  readonly recommendedH: number | null;
  readonly candidateH: number | null;
  readonly longestByBoundH: number | null;
}

/** Answers under other settings; nothing past the largest change is looked at. */
export interface WhatIf {
  /** One-sided, ascending, the published one among them. */
  readonly confidences: readonly number[];
  /** Factors on both acceptable risks, ascending, 1 among them. */
  readonly riskFactors: readonly number[];
  /** By confidence, then by factor of the acceptable risks. */
  readonly answers: readonly (readonly WhatIfAnswer[])[];
  /** By the wear method alone, at the published confidence and acceptable risks; empty without a wear line. */
  readonly limits: readonly { readonly limitMm: number; readonly answer: WhatIfAnswer }[];
  /** The longest interval looked at. */
  readonly upToH: number;
}
