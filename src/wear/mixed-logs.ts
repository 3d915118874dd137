/** log((1 − share)·e^one + share·e^two) without overflow, and the share of the second in that sum. */
export interface MixedLogs {
  log: number;
  /** Derivative by `two`; that by `one` is the rest to 1, and that by the logit of the share is this less the share. */
  second: number;
}

/** Puts the mixture of two logarithms into `out`. */
export function mixLogs(one: number, two: number, share: number, out: MixedLogs): void {
  const ahead = two - one;
  // The larger of the two is taken out.
  const most = ahead > 0 ? two : one;
  const smaller = Math.exp(-Math.abs(ahead));
  const first = (1 - share) * (ahead > 0 ? smaller : 1);
  const second = share * (ahead > 0 ? 1 : smaller);
  out.log = most + Math.log(first + second);
  out.second = second / (first + second);
}
