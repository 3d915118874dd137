/** Seeded random numbers: the only source of randomness in the program. The same seed gives the same draws everywhere. */
import { xoroshiro128plus } from "pure-rand/generator/xoroshiro128plus";
import { standardNormalQuantile } from "./distributions.ts";

export interface Random {
  /** Uniform in the open interval (0, 1). */
  uniform(): number;
  /** Standard normal. */
  normal(): number;
  /** Exponential with mean 1. */
  exponential(): number;
  /** A whole number in [0, n). */
  below(n: number): number;
}

/** A stream of random numbers for a stated seed. Draws are by inversion, so a change in one place shifts no other. */
export function seededRandom(seed: number): Random {
  const generator = xoroshiro128plus(seed | 0);
  // The generator starts from a state that is nearly all ones or zeros: its first words are alike for all small seeds
  // (the first uniform would be 1.0000 for each of them), so they are passed over.
  for (let word = 0; word < 64; word++) generator.next();
  // 53 bits from two 32-bit words, offset by half a step so that neither 0 nor 1 is ever drawn.
  const uniform = () => {
    const high = generator.next() >>> 5;
    const low = generator.next() >>> 6;
    return (high * 67108864 + low + 0.5) / 9007199254740992;
  };
  return {
    uniform,
    normal: () => standardNormalQuantile(uniform()),
    exponential: () => -Math.log1p(-uniform()),
    below: (n) => Math.min(n - 1, Math.floor(uniform() * n)),
  };
}
