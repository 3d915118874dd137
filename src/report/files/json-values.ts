/** What the machine files write alike: numbers to ten digits, bounded numbers, groups. */
import type { Bounded } from "../../interval/month-result.ts";
import type { GroupKey } from "../../records/life.ts";
import { published } from "../../units.ts";

export type Json = null | boolean | number | string | readonly Json[] | { readonly [key: string]: Json };

/** A number as it is published; null where there is none. */
export const numberOrNull = (value: number | null): number | null =>
  value === null ? null : published(value);

/** An estimate with its bounds; null where there is none. */
export const boundedJson = (bounded: Bounded | null): Json =>
  bounded === null
    ? null
    : {
        estimate: published(bounded.estimate),
        lower: numberOrNull(bounded.lower),
        upper: numberOrNull(bounded.upper),
      };

/** A group by its three words. */
export const keyJson = ({ part, environment, standard }: GroupKey) => ({ part, environment, standard });
