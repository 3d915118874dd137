/** What a thin group takes from the part's other groups, as method.html sets it out. */
import { Formula, I, N, O, Of, Over, Sub, T } from "../math.tsx";
import type { Method } from "./method-entry.tsx";

const g = <I>g</I>;
const logLikelihood = (of: string) => (
  <Of f="ℓ">
    <Sub base={<I>{of}</I>} sub={g} />
  </Of>
);

const borrowed: Method = {
  name: "Borrowed from other groups",
  id: "borrowed",
  gives:
    "What a group too thin by itself can't tell: the shape of its lives where too few were found over the limit for a free Weibull, the spread of its rates where fewer than 10 components were read. Its own lives give the scale, its own components the mean rate.",
  formula: (
    <Formula says="Lambda equals two times the sum over groups of the log-likelihood at each group's own value less that at the shared one">
      <I>Λ</I>
      <O>=</O>
      <N>2</N>
      <Over sign="∑" range={g} />
      <O>[</O>
      {logLikelihood("θ")}
      <O>−</O>
      <Of f="ℓ">
        <T>shared</T>
      </Of>
      <O>]</O>
    </Formula>
  ),
  where:
    "θ: shape, or intercept, scatter and spread of log rates, of each group g by itself. Λ is held against chi-squared. At least two groups must lend, and three tests may stop it: the lenders against each other, their spreads alone, and the thin group against them; the smallest p counts, against the one in the settings. Where no spread differs, one of them stops it about one time in five (in simulation, most often where aircraft are alike): more often than 1 in 20, on purpose.",
  assumes:
    "The thin group is as the others are in what it borrows; its own few readings can't prove it (in simulation 8 components spread twice as wide as the lenders' passed the tests three times in ten, and most bounds were then too low), which is why nothing is extended on it. Bounds take the shared shape over its likelihood-ratio interval, and a shared spread as well as the lenders know it, both widened for aircraft that are alike; the mean rate is widened by Student's t of the group's own aircraft. Borrowed rates are lognormal, their wear straight.",
  source:
    "Likelihood-ratio tests of equal Weibull shapes: Lawless, Statistical Models and Methods for Lifetime Data, second edition. The shape checked against R survreg with a stratum a group.",
  fails:
    "Fewer than two groups can lend, a test rejects, or the group has fewer than 3 components of 3 aircraft read.",
  shownThen:
    "The reason, among what is not known. Where a group has a line of its own the worse of the two counts, so borrowing never makes a risk smaller; where it has none, the borrowed one may shorten an interval and never extend it, and count rules see the group's own lives only.",
};

export const BORROWED_METHODS: readonly Method[] = [borrowed];
