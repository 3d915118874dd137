/** One risk in words: its number, the bound with its confidence, and what is acceptable. */
import { type Rounding, roundedDigits } from "../math/rounded.ts";
import { OVER_LIMIT, UNSAFE } from "./risks.ts";
import type { WeighedRisk } from "./weighed-risk.ts";

/** What a risk's three numbers say, in the four ways that a sentence needs. */
export interface RiskInWords {
  readonly surelyOver: string;
  readonly likelyOver: string;
  readonly notBounded: string;
  readonly bounded: string;
}

/** How a quantity is said: the words after its number, and how the number is written. */
interface Quantity {
  readonly of: string;
  /** The word that asks for it where there is no number. */
  readonly asks: string;
  readonly write: (value: number, digits: number, rounding?: Rounding) => string;
}

/** A share in percent, to significant digits. */
export const percent: Quantity["write"] = (value, digits, rounding) =>
  `${roundedDigits(100 * value, digits, rounding)} %`;
const FINDS: Quantity = {
  of: "of looks find a component over its limit",
  asks: "what share",
  write: percent,
};
const UNSEEN: Quantity = {
  of: "of the components that reach their limit pass the unsafe-at limit before a look sees them",
  asks: "what share",
  write: percent,
};
const FAILURES: Quantity = {
  of: "functional failures come in 1000 flight hours",
  asks: "how many",
  write: (value, digits, rounding) => `${roundedDigits(value, digits, rounding)}`,
};

const quantityOf = (name: string): Quantity =>
  name === UNSAFE ? UNSEEN : name === OVER_LIMIT ? FINDS : FAILURES;

/** A risk's numbers in words. @param confidence  of its bounds, one-sided */
export function riskInWords({ name, value, acceptable }: WeighedRisk, confidence: number): RiskInWords {
  const { of, asks, write } = quantityOf(name);
  if (value === null) return notComputed(`${asks} ${of}`);
  const { estimate, lower, upper } = value;
  const sure = `with ${percent(confidence, 4)} confidence`;
  // Each form writes only its own numbers, with digits enough to tell these apart; the bound is rounded outward.
  const form = (bound: number | null, outward: Rounding, say: (of: Written) => string): string => {
    const written = [estimate, bound, acceptable].map((value, i): Rounded | null =>
      value === null ? null : { value, rounding: i === 1 ? outward : "nearest" },
    );
    const digits = digitsFor(written);
    const words = {
      number: write(estimate, digits),
      bound: bound === null ? null : write(bound, digits, outward),
    };
    return `${say(words)}; ${write(acceptable, digits)} is acceptable.`;
  };
  return {
    surelyOver: form(
      lower,
      "down",
      ({ number, bound }) => `${sure} at least ${bound ?? number} ${of} (best estimate ${number})`,
    ),
    likelyOver: form(upper, "up", ({ number, bound }) => {
      const atMost = bound === null ? "no upper bound can be set" : `${sure} at most ${bound}`;
      return `by the best estimate ${number} ${of} (${atMost})`;
    }),
    notBounded: form(upper, "up", ({ number, bound }) => {
      const known =
        bound === null ? "no upper bound can be set" : `${sure} it is only known to be at most ${bound}`;
      return `the best estimate is that ${number} ${of}, but ${known}`;
    }),
    bounded: form(upper, "up", ({ number, bound }) =>
      bound === null ? `by the best estimate ${number} ${of}` : `${sure} at most ${bound} ${of}`,
    ),
  };
}

/** An estimate and the bound beside it, in words. */
interface Written {
  readonly number: string;
  readonly bound: string | null;
}

interface Rounded {
  readonly value: number;
  readonly rounding: Rounding;
}

/** As many significant digits, two to four, as keep numbers that differ from reading the same. */
function digitsFor(written: readonly (Rounded | null)[]): number {
  const numbers = written.filter((each) => each !== null);
  const distinct = new Set(numbers.map(({ value }) => value.toPrecision(6))).size;
  const told = (digits: number) =>
    new Set(numbers.map(({ value, rounding }) => roundedDigits(value, digits, rounding))).size;
  return [2, 3].find((digits) => told(digits) === distinct) ?? 4;
}

/** A risk of which not even an estimate could be had is told so, whatever is asked of it. */
function notComputed(what: string): RiskInWords {
  const words = `${what} could not be computed.`;
  return { surelyOver: words, likelyOver: words, notBounded: words, bounded: words };
}
